import { finishedThickness, thicknessOfBlank } from '../flattening';
import { bounds, offset, type Point, regionContains, ringArea } from '../geometry';
import { findSlab, type Job } from '../job';
import { flatteningShop, surfacesOf } from '../layout';
import type { Memo } from '../surface';

/** What a slab gives flattened whole, as far as it has been read. Lengths in mm. */
export interface SlabThickness {
  readonly thickest: number;
  readonly sigma: number;
  /** After all reserves, drying and sanding. */
  readonly finished: number;
  /** Where one more reading would tell most, and one standard deviation of the upper face there; null where all is well known. */
  readonly readHere: { readonly at: Point<'face'>; readonly sigma: number } | null;
}

/** Wane at the edge is never flattened, mm. */
const WANE = 20;
/** Places looked at along and across for the one that is least known. */
const [ALONG, ACROSS] = [14, 5];
/** A face known better than this needs no more readings, mm. */
const KNOWN = 0.6;

/** The slab flattened whole; null without an outline or readings of both faces. */
export function slabThickness(job: Job, flitchId: string, slabId: string, memo?: Memo): SlabThickness | null {
  const { flitch, slab } = findSlab(job, flitchId, slabId);
  const outline = slab.faces.top.outline;
  const faces = surfacesOf(slab, memo);
  const wood = outline && offset([outline], -WANE).sort((a, b) => ringArea(b.outer) - ringArea(a.outer))[0];
  if (!faces || !wood) return null;
  const { thickest, sigma } = thicknessOfBlank(faces, wood.outer);
  const { minX, maxX, minY, maxY } = bounds(wood.outer);
  let readHere: SlabThickness['readHere'] = null;
  for (let i = 0; i < ALONG; i++) {
    for (let k = 0; k < ACROSS; k++) {
      const at: Point<'face'> = [
        minX + ((i + 0.5) / ALONG) * (maxX - minX),
        minY + ((k + 0.5) / ACROSS) * (maxY - minY),
      ];
      const doubt = regionContains(wood, at) ? faces.top.sigma(at) : 0;
      if (doubt > Math.max(KNOWN, readHere?.sigma ?? 0)) readHere = { at, sigma: doubt };
    }
  }
  return { thickest, sigma, finished: finishedThickness(thickest, flatteningShop(flitch, slab, job.shop)), readHere };
}
