import { type Frame, offset, type Region } from '../geometry';

/** Wood narrower than this, mm, is the rounding of the clipping library, not a fault. */
export const ROUNDING = 0.02;

/** Whether regions hold any wood to speak of. */
export const isWood = <F extends Frame>(regions: readonly Region<F>[]): boolean =>
  regions.length > 0 && offset(regions, -ROUNDING / 2, 'mitre').length > 0;
