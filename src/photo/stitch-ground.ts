import { offset } from '../geometry';
import type { Calibration } from '../job';
import { type Grid, maskOf } from '../raster';
import type { Cv } from './cv';
import { laidOf } from './laid';
import { noWood } from './outline';
import { paperLight } from './paper-light';
import { rectify } from './rectify';
import { type Mask, segment } from './segment';
import { NO_TONE, paperTone, type Tone } from './stitch-light';
import { type Layer, stitched } from './stitch-picture';
import { rowOf } from './stitch-row';
import type { MeasuredShot } from './stitch-types';
import type { Laid } from './trace-types';

/** What lies where on a face that was shot in several photos, to a few millimetres. */
export interface Ground {
  /** What brings each photo's paper to one white. */
  readonly tones: readonly Tone[];
  readonly wood: Mask;
  /** Says where a grid shows bare wood: no card, no floor. */
  bare(grid: Grid): Uint8Array;
}

/** Light is read from paper at this detail, mm per pixel, or less. */
const PAPER = 1.5;

/** @throws InputProblem when no wood is seen */
export function groundOf(cv: Cv, shots: readonly MeasuredShot[], calibrations: readonly Calibration[]): Ground {
  const { order, box, mmPerPx, middles } = rowOf(calibrations);
  const laid = shots.map(({ sighted }, i) => laidOf(sighted, calibrations[i] as Calibration));
  const tones = shots.map(({ shot: { photo, scale } }, i): Tone => {
    const cards = laid[i] as Laid[];
    if ((scale.kind !== 'markers' && scale.kind !== 'paper') || cards.length === 0) return NO_TONE;
    const seen = rectify(cv, photo, calibrations[i] as Calibration, { mmPerPx: Math.max(mmPerPx, PAPER) });
    const light = paperLight(
      seen,
      cards.map(({ polygon }) => polygon),
    );
    return light ? paperTone(light) : NO_TONE;
  });
  const layers = order.map(
    (i): Layer => ({
      photo: (shots[i] as MeasuredShot).shot.photo,
      calibration: calibrations[i] as Calibration,
      moved: (spot) => spot,
      tone: tones[i] as Tone,
    }),
  );
  const everything = laid.flat();
  const wood = segment(cv, stitched(cv, layers, middles, { mmPerPx, bounds: box }), { laid: everything });
  if (!wood) throw noWood();
  return { tones, wood, bare: bareWood(wood, everything) };
}

/** Wood so near its edge, mm, may be shadow or floor. */
const EDGE = 12;
/** Cards cast a rim of shadow, mm. */
const CARD_RIM = 6;

/** Says where a grid shows bare wood. */
function bareWood(wood: Mask, laid: readonly Laid[]): (grid: Grid) => Uint8Array {
  const reach = Math.ceil(EDGE / wood.mmPerPx);
  const inner = wood.data.map((v, i) => {
    if (!v) return 0;
    const [c, r] = [i % wood.width, Math.floor(i / wood.width)];
    const isWood = (dc: number, dr: number) =>
      c + dc >= 0 && r + dr >= 0 && c + dc < wood.width && r + dr < wood.height && wood.data[i + dr * wood.width + dc];
    return isWood(reach, 0) && isWood(-reach, 0) && isWood(0, reach) && isWood(0, -reach) ? 1 : 0;
  });
  const covers = offset(
    laid.map(({ polygon }) => ({ outer: polygon, holes: [] })),
    CARD_RIM,
  );
  return (grid) => {
    const cards = maskOf(grid, covers);
    return cards.map((card, i) => {
      if (card) return 0;
      const c = Math.floor((grid.x0 + ((i % grid.width) + 0.5) * grid.mmPerPx - wood.x0) / wood.mmPerPx);
      const r = Math.floor((grid.y0 + (Math.floor(i / grid.width) + 0.5) * grid.mmPerPx - wood.y0) / wood.mmPerPx);
      return c >= 0 && r >= 0 && c < wood.width && r < wood.height ? (inner[r * wood.width + c] as number) : 0;
    });
  };
}
