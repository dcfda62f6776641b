import { finishedThickness, thicknessOfBlank } from '../flattening';
import { bounds, intersection, offset, type Point, rectangle, regionContains, ringArea } from '../geometry';
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
  /** Where a crosscut helps most: from the slab's left end, and what the piece on either side finishes at. Best first; none where it gains nothing. */
  readonly crosscuts: readonly { readonly along: number; readonly left: number; readonly right: number }[];
}

/** Wane at the edge is never flattened, mm. */
const WANE = 20;
/** Places looked at along and across for the one that is least known. */
const [ALONG, ACROSS] = [14, 5];
/** A face known better than this needs no more readings, mm. */
const KNOWN = 0.6;

/** Crosscuts tried, as shares of the length, and told. */
const CUTS = [0.25, 0.35, 0.45, 0.5, 0.55, 0.65, 0.75];
const TOLD = 2;
/** A crosscut that gains less than this for the thinner piece is none, mm. */
const NO_GAIN = 0.5;

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
  const shop = flatteningShop(flitch, slab, job.shop);
  const finished = finishedThickness(thickest, shop);
  const piece = (from: number, to: number): number => {
    const [part] = intersection([wood], [{ outer: rectangle<'face'>(from, minY, to, maxY), holes: [] }]);
    return part ? finishedThickness(thicknessOfBlank(faces, part.outer).thickest, shop) : finished;
  };
  const crosscuts = CUTS.map((share) => {
    const x = minX + share * (maxX - minX);
    return { along: x - bounds(outline.outer).minX, left: piece(minX, x), right: piece(x, maxX) };
  })
    .filter(({ left, right }) => Math.min(left, right) > finished + NO_GAIN)
    .sort((p, q) => Math.min(q.left, q.right) - Math.min(p.left, p.right))
    .slice(0, TOLD);
  return { thickest, sigma, finished, readHere, crosscuts };
}
