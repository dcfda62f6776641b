import { finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll, bounds, rectangle, regionArea } from '../geometry';
import { type End, type Job, slabKey, slabsInOrder, type Top, wantedTops } from '../job';
import { mostAcross, mostDepths } from './columns';
import { offeredTo } from './sapwood';
import { type FaceStock, prepareStock } from './stock';
import { flatteningShop } from './thinnest';

/** The most that a slab could give, cheaply: no search may find more. Lengths in mm, areas in mm2. */
export interface SlabReach {
  /** slabKey of it. */
  readonly key: string;
  readonly name: string;
  /** Flitch and place in it: neighbours look alike. */
  readonly flitch: string;
  readonly place: number;
  /** Null where nobody said. */
  readonly price: number | null;
  readonly length: number;
  /** Of the larger face. */
  readonly area: number;
  /** Whether a seam of it can be looked at. */
  readonly pictured: boolean;
  /** By the id of the top. */
  readonly tops: ReadonlyMap<string, TopReach>;
  /** The widest that it is over a length. */
  across(length: number): number;
}

/** What a slab could give to one top. */
export interface TopReach {
  /** Depth of one strip that makes the whole top. */
  readonly one: number;
  /** Depth of all its strips that could go into the top. */
  readonly strips: number;
  /** Finished thickness where it was read; -Infinity where nothing was. */
  readonly thickness: number;
  /** Whether a face may be used of which no thickness can be told. */
  readonly unread: boolean;
  /** One standard deviation of the outline of its better known face. */
  readonly sigma: number;
}

/** What a top needs at the least of its wood, all its wishes left out that only make it harder. */
export interface TopNeed {
  readonly top: Top;
  /** Length over which it needs its least depth. */
  readonly length: number;
  readonly depth: number;
  readonly area: number;
  /** Whether its strips lie nearly along the slab, so that lengths and depths of the slab bound it. */
  readonly along: boolean;
  /** Whether both its long edges are the slab's own, or its shape is its own: then the whole width of the wood counts. */
  readonly wide: boolean;
}

/** A column's width at either end, and what a turned strip loses there, mm. */
const ENDS = 30;
/** Half of the step between the angles that depths are looked up at, degrees. */
const HALF_STEP = 0.25;
/** Rounding of columns and polygons, mm. */
const ROUNDING = 2;
/** A top of a shape of its own is as deep as it is wide over this share of its length, or more. */
const SHAPED = 0.1;
/** Thickness by flat facets may fall this far short of the surface's own, mm. */
const FACETS = 1;

const tan = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);

/** By how much an end may make a top shorter than its length, at the least depth. */
const shortBy = ({ edge, degrees, short }: End, depth: number): number =>
  depth / Math.abs(tan(degrees)) + (edge === 'live' ? short : 0);

/** What each wanted top needs at the least, copies each for itself. */
export function topNeeds(job: Job): TopNeed[] {
  return wantedTops(job).map((top): TopNeed => {
    const shaped = top.shape !== null;
    const square = top.length - shortBy(top.ends.left, top.depth[1]) - shortBy(top.ends.right, top.depth[1]);
    const length = shaped ? SHAPED * top.length : Math.max(SHAPED * top.length, square);
    const depth = shaped ? top.depth[0] * Math.sqrt(1 - SHAPED ** 2) : top.depth[0];
    const along = top.grain === null || Math.abs(top.grain.degrees) + top.grain.tolerance <= job.shop.seam.angle;
    return { top, length, depth, area: length * depth, along, wide: shaped || top.back === 'live' };
  });
}

/** The most that every slab of the job could give to its tops; slabs without an outline are left out. */
export function slabReaches(job: Job, needs: readonly TopNeed[]): SlabReach[] {
  const stock = prepareStock(job, new Map());
  return Object.values(job.flitches).flatMap((flitch) =>
    slabsInOrder(flitch).flatMap((slab): SlabReach[] => {
      const faces = stock.filter((face) => face.slab === slab);
      if (faces.length === 0) return [];
      const widths = new Map<number, number>();
      const most = (of: (face: FaceStock) => number): number => Math.max(...faces.map(of));
      return [
        {
          key: slabKey(flitch.id, slab.id),
          name: slab.name,
          flitch: flitch.id,
          place: slab.place,
          price: slab.price,
          length: most(({ outline }) => bounds(outline.outer).maxX - bounds(outline.outer).minX),
          area: most(({ outline }) => regionArea(outline)),
          pictured: Object.values(slab.faces).some(({ picture, outline }) => picture !== null && outline !== null),
          tops: new Map(needs.map((need) => [need.top.id, reachOf(faces, need, job)])),
          across(length) {
            const known = widths.get(length);
            const width = known ?? most((face) => mostAcross(face, Math.max(0, length - ENDS), true)) + ROUNDING;
            widths.set(length, width);
            return width;
          },
        },
      ];
    }),
  );
}

function reachOf(faces: readonly FaceStock[], need: TopNeed, job: Job): TopReach {
  const { top, along, wide } = need;
  // Where a defect does not matter, or is ripped out of the way, it bounds nothing.
  const avoid = Object.keys(top.covered).length + Object.keys(top.cutOuts).length === 0;
  const angle = job.shop.seam.angle;
  const length = Math.max(ENDS, need.length - ENDS);
  const slack = need.length * tan(HALF_STEP) + ROUNDING;
  const found = { one: 0, strips: 0, thickness: -Infinity, unread: false, sigma: Infinity };
  for (const face of faces) {
    const offered = offeredTo(top, face);
    if (!along) {
      found.one = found.strips = Infinity;
    } else if (wide) {
      const across = mostAcross(offered, 0, avoid) + ROUNDING;
      found.one = found.strips = Math.max(found.one, across);
    } else {
      const depths = mostDepths(offered, { length, angle, least: top.leastStrip - slack }, avoid);
      // From one slab two strips may lie one after the other.
      const lanes = Math.max(1, Math.floor((lengthOf(face) + ENDS) / need.length));
      found.one = Math.max(found.one, (top.front === 'live' ? depths.live : depths.straight) + slack);
      found.strips = Math.max(found.strips, lanes * (Math.max(depths.live, depths.together) + slack));
    }
    const thick = thickestOf(face, need, job);
    found.thickness = Math.max(found.thickness, thick ?? -Infinity);
    found.unread ||= thick === null;
    found.sigma = Math.min(found.sigma, face.margin / 2);
  }
  return found;
}

const lengthOf = (face: FaceStock): number => bounds(face.outline.outer).maxX - bounds(face.outline.outer).minX;

/**
 * Finished thickness that no blank of the top can exceed: a blank of length L lies over the middle of the slab, and holds one of the rows
 * that are no further apart than its narrowest strip is wide. A row alone finishes thicker than any blank around it.
 */
function thickestOf(face: FaceStock, { top, length, along }: TopNeed, job: Job): number | null {
  const facets = face.facets();
  if (!facets || !face.toReadings) return null;
  const { minX, maxX, minY, maxY } = bounds(face.outline.outer);
  const middle = along ? 2 * length - (maxX - minX) : 0;
  const reach = middle > 0 ? middle : 1;
  const xs =
    middle > 0
      ? [(minX + maxX - reach) / 2]
      : Array.from({ length: 9 }, (_, i) => minX + ((i + 0.5) / 9) * (maxX - minX));
  const rows = Math.ceil((maxY - minY) / Math.max(30, top.leastStrip - 2 * reach * tan(job.shop.seam.angle)));
  let most = -Infinity;
  for (let k = 0; k < rows; k++) {
    const y = minY + ((k + 0.5) / rows) * (maxY - minY);
    for (const x of xs) {
      const row = applyAll(face.toReadings, rectangle<'face'>(x, y - 0.5, x + reach, y + 0.5));
      most = Math.max(most, thicknessOfBlank(facets, row).thickest);
    }
  }
  return finishedThickness(most, flatteningShop(face.flitch, face.slab, job.shop)) + FACETS;
}
