import type { Affine } from '../geometry';
import type { Job } from '../job';
import type { PlanReport } from '../plan';
import { formatLength, formatPlusMinus } from '../units';
import type { EncodedImage } from './drawing';
import type { PaperName } from './page';
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

/** Lengths as this job's sheets print them: tenths of a millimetre, or 1/32 in, since both are finer than a tape is read. */
export interface Lengths {
  /** A length that is measured. */
  at(mm: number): string;
  /** A size, to the whole millimetre or 1/16 in. */
  size(mm: number): string;
  plusMinus(mm: number): string;
  /** For a column's heading: what its figures are in; inches bear their own mark. */
  readonly unit: string;
}

export const lengthsOf = ({ job }: PlanReport): Lengths => ({
  at: (mm) => formatLength(mm, job.units, { denominator: 32, decimals: 1, keepZeros: true }),
  size: (mm) => formatLength(mm, job.units, { decimals: 0 }),
  plusMinus: (mm) => formatPlusMinus(mm, job.units, { denominator: 32, decimals: 1, keepZeros: true }),
  unit: job.units === 'mm' ? ', mm' : '',
});

/** From a picture's pixels to its frame. */
export const toFrame = <F extends 'face' | 'top' | 'panel'>({
  mmPerPx,
  x0,
  y0,
}: LaidPicture): Affine<'rectified', F> => ({
  m: [mmPerPx, 0, 0, mmPerPx, x0, y0],
});
