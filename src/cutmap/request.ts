import type { Affine } from '../geometry';
import { type Job, MARK_DRILL } from '../job';
import type { PlanReport } from '../plan';
import { formatLength, formatPlusMinus } from '../units';
import type { EncodedImage } from './drawing';
import type { PaperName } from './papers';
import type { Typeface } from './text';

/** A photo laid on a face (or a composed picture on a top): the corner of its first pixel stands at (x0, y0), in mm of that frame. */
export interface LaidPicture {
  readonly image: EncodedImage;
  readonly mmPerPx: number;
  readonly x0: number;
  readonly y0: number;
  /** The same with few pixels, for a picture of a thumb's size; left out, the picture itself is taken. */
  readonly small?: Pick<LaidPicture, 'image' | 'mmPerPx'>;
}

/** What the sheets are made from. Pictures are encoded by the caller (canvas in a browser, sharp in Node) and may be missing. */
export interface SheetRequest {
  readonly report: PlanReport;
  readonly job: Job;
  readonly paper: PaperName;
  readonly typeface: Typeface;
  /** By faceKey. */
  readonly faces: ReadonlyMap<string, LaidPicture>;
  /** By the top's id, in the top's frame. */
  readonly tops: ReadonlyMap<string, LaidPicture>;
  /** By the front's id, in the panel's frame; left out, none is shown. */
  readonly panels?: ReadonlyMap<string, LaidPicture>;
}

/**
 * Lengths as this job's sheets print them: tenths of a millimetre, or 1/32 in (1/16 where the job says so), since both are finer than a tape is
 * read; where the job wants both units, the other one follows in brackets, as drawings give a second dimension.
 */
export interface Lengths {
  /** A length that is measured. */
  at(mm: number): string;
  /** A size, to the whole millimetre or 1/16 in. */
  size(mm: number): string;
  /** The same in the job's own units alone. */
  firstSize(mm: number): string;
  plusMinus(mm: number): string;
  /** A length that is measured, in the job's own units alone, and in the other ones; null where these are not wanted. */
  first(mm: number): string;
  second(mm: number): string | null;
  /** The bit that the marks are drilled with. */
  readonly drill: string;
  /** For a column's heading: what its figures are in; inches bear their own mark. */
  readonly unit: string;
}

export function lengthsOf({ job: { units, printed } }: PlanReport): Lengths {
  const { fraction: denominator, both } = printed ?? { fraction: 32, both: false };
  const other = units === 'mm' ? 'in' : 'mm';
  const measured = { denominator, decimals: 1, keepZeros: true } as const;
  const first = (mm: number): string => formatLength(mm, units, measured);
  const second = (mm: number): string | null => (both ? formatLength(mm, other, measured) : null);
  const and = (own: string, others: string): string => (both ? `${own} [${others}]` : own);
  const whole = { decimals: 0 } as const;
  return {
    first,
    second,
    at: (mm) => and(first(mm), second(mm) ?? ''),
    size: (mm) => and(formatLength(mm, units, whole), formatLength(mm, other, whole)),
    firstSize: (mm) => formatLength(mm, units, whole),
    plusMinus: (mm) => formatPlusMinus(units === 'in' ? upTo(mm, 25.4 / denominator) : mm, units, measured),
    drill: formatLength(MARK_DRILL, units, { unit: true, decimals: 0, denominator: 32 }),
    unit: units === 'mm' ? (both ? ', mm [in]' : ', mm') : both ? ', in [mm]' : '',
  };
}

/** A doubt on the next division of a tape: rounded down it would promise too much. */
const upTo = (mm: number, division: number): number => Math.ceil(mm / division - 1e-6) * division;

/** From a picture's pixels to its frame. */
export const toFrame = <F extends 'face' | 'top' | 'panel'>({
  mmPerPx,
  x0,
  y0,
}: LaidPicture): Affine<'rectified', F> => ({
  m: [mmPerPx, 0, 0, mmPerPx, x0, y0],
});
