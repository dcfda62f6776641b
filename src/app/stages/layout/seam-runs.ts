import { type SeamWord, type Stretch, seamWord, type Why } from '../../../grain';
import { formatLength, type UnitSystem } from '../../../units';

/** Neighbouring stretches of a seam that look alike, mm from the left-hand end as one stands before the top. */
export interface SeamRun {
  readonly from: number;
  readonly to: number;
  /** Null where it cannot be told. */
  readonly word: SeamWord | null;
  readonly why: Why | null;
}

/** What makes a stretch show, as one would say it. */
const BECAUSE: Readonly<Record<Why, string>> = {
  colour: 'the colour differs',
  grain: 'the grain runs at another angle',
  spacing: 'the rings stand closer on one side',
  lines: 'the lines do not meet',
  defect: 'too little sound wood there',
};

/** A seam as it is seen from left to right. @param along stretches from the right-hand end, mm */
export function seamRuns(along: readonly Stretch[], length: number): SeamRun[] {
  const runs: SeamRun[] = [];
  for (const { from, to, blend, why } of [...along].reverse()) {
    const word = blend === null ? null : seamWord(blend);
    const last = runs.at(-1);
    if (last && last.word === word && last.why === why) runs[runs.length - 1] = { ...last, to: length - from };
    else runs.push({ from: length - to, to: length - from, word, why });
  }
  return runs;
}

export const becauseWords = (why: Why): string => BECAUSE[why];

/** Where a run lies: "200 to 640". */
export const runPlace = ({ from, to }: SeamRun, units: UnitSystem): string =>
  `${formatLength(from, units, { decimals: 0 })} to ${formatLength(to, units, { decimals: 0 })}`;
