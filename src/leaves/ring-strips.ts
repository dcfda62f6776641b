import { type BoardSheets, type RingShape, ringThrough } from './pith-course';

/** Rings farther than this from the pith are not looked at, mm. */
export const FARTHEST_RING = 1200;
/** Right over the pith a ring covers many rows: there it tells nothing, mm. */
const OVER_PITH = 8;

/** What one side of one face shows, ring by ring (mm of radius): 0 where nothing is known. */
export interface Strip {
  readonly tones: Float32Array;
  from: number;
  to: number;
}

export const newStrips = (): Strip[] =>
  Array.from({ length: 4 }, () => ({ tones: new Float32Array(FARTHEST_RING), from: 0, to: -1 }));

/** Fills the four strips of a station (upper face at less y and at more y than the pith, then the lower), were the pith there. */
export function readStrips(
  { rows, thickness, faces }: BoardSheets,
  station: number,
  pith: number,
  deep: number,
  shape: RingShape,
  out: readonly Strip[],
): void {
  const first = station * rows;
  for (const [s, strip] of out.entries()) {
    const lines = faces[s < 2 ? 0 : 1];
    const v = deep - (s < 2 ? 0 : thickness);
    const way = s % 2 === 0 ? -1 : 1;
    strip.tones.fill(0, strip.from, strip.to + 1);
    strip.from = FARTHEST_RING;
    strip.to = -1;
    let row = way < 0 ? Math.min(rows - 1, Math.floor(pith - OVER_PITH)) : Math.max(0, Math.ceil(pith + OVER_PITH));
    let [before, tone] = [Number.NaN, 0];
    for (; row >= 0 && row < rows; row += way) {
      const ring = ringThrough(row - pith, v, shape);
      const here = lines[first + row] as number;
      // A ring that comes nearer again as one goes out is not followed.
      if (ring <= before || ring >= FARTHEST_RING - 1) break;
      if (here !== 0 && tone !== 0) {
        for (let r = Math.ceil(before); r <= ring; r++) {
          strip.tones[r] = tone + ((r - before) / (ring - before)) * (here - tone);
          if (r < strip.from) strip.from = r;
          if (r > strip.to) strip.to = r;
        }
      }
      before = ring;
      tone = here;
    }
  }
}
