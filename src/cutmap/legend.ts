import type { SlabReport } from '../plan';
import { type Element, path, text } from './drawing';
import { HATCHES, hatchLines } from './linework';
import type { LineKind } from './pen';
import type { Typeface } from './text';

const LINES: readonly (readonly [kind: LineKind, words: string])[] = [
  ['outline', "wood's edge"],
  ['datum', 'chalk line A–B'],
  ['rough', 'rough cut'],
  ['finished', 'finished piece'],
  ['joint', 'joint'],
  ['pocket', 'key'],
  ['offcut', 'offcut'],
];

/** What the lines and hatches of a slab's drawing mean, in rows no wider than `width`; from (0, 0) down. */
export function legend(
  { defects, farDefects }: Pick<SlabReport, 'defects' | 'farDefects'>,
  width: number,
  typeface: Typeface,
): { elements: Element[]; height: number } {
  const elements: Element[] = [];
  let [x, y] = [0, 0];
  const entry = (words: string, sample: (x: number, y: number) => Element[]): void => {
    const wide = 14 + typeface.measure(words, 2.5, false) + 5;
    if (x > 0 && x + wide > width) [x, y] = [0, y + 5];
    elements.push(...sample(x, y), text([x + 14, y + 3.4], words));
    x += wide;
  };
  for (const [kind, words] of LINES) {
    entry(words, (left, top) => [sampleLine(left, top, kind)]);
  }
  if (farDefects.length > 0) entry('defect of the other face', (left, top) => [sampleLine(left, top, 'below')]);
  for (const kind of new Set(defects.map((defect) => defect.kind))) {
    const { angles, step } = HATCHES[kind];
    entry(kind, (left, top) => {
      const ring = [
        [left, top + 0.4],
        [left + 12, top + 0.4],
        [left + 12, top + 4],
        [left, top + 4],
      ] as const;
      if (angles.length > 0)
        return [...angles.flatMap((angle) => hatchLines([ring], angle, step)), path(ring, 'defect', true)];
      const line = [
        [left, top + 2],
        [left + 12, top + 1.8],
        [left + 12, top + 2.6],
        [left, top + 2.4],
      ] as const;
      return [path(line, 'defect', true, 'ink')];
    });
  }
  return { elements, height: y + 6 };
}

const sampleLine = (left: number, top: number, kind: LineKind): Element =>
  path(
    [
      [left, top + 2.2],
      [left + 12, top + 2.2],
    ],
    kind,
  );
