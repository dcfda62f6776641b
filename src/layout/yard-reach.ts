import { finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll, bounds, rectangle, regionArea } from '../geometry';
import { type End, type Job, slabKey, slabsInOrder, type Top, wantedTops } from '../job';
import { anglesOf, mostAcross, mostDepths } from './columns';
import { offeredTo } from './sapwood';
import { sizeShares } from './size-share';
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
  /** What its straight edges keep inside its outline, and what two blanks keep apart where one lies beside the other; 0 with holes in it. */
  readonly margin: number;
  readonly gap: number;
}

/** What a slab could give to one top. */
export interface TopReach {
  /** Depth of one strip from the front on: of the whole top, or before a seam. */
  readonly one: number;
  /** Depth of one strip behind a seam. */
  readonly behind: number;
  /** Depth of all its strips that could go into the top. */
  readonly strips: number;
  /** So many strips may lie one after the other along the slab. */
  readonly lanes: number;
  /** Finished thickness of a strip that is so wide at the least, where it was read; -Infinity where nothing was. */
  thickness(width: number): number;
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
  /** What having it counts by its size (size-share.ts). */
  readonly size: number;
  /** Whether its strips lie nearly along the slab, so that lengths and depths of the slab bound it. */
  readonly along: boolean;
  /** Whether both its long edges are the slab's own, or its shape is its own: then the whole width of the wood counts. */
  readonly wide: boolean;
}

/** A column's width at either end, and what a turned strip loses there, mm. */
const ENDS = 30;
/** Half of the step between the angles that depths are first looked up at, and at last where they matter, degrees. */
const HALF_STEP = 0.25;
const HALF_FINE = HALF_STEP / 3;
/** Rounding of columns and polygons, mm. */
const ROUNDING = 2;
/** A top of a shape of its own is as deep as it is wide over this share of its length, or more. */
const SHAPED = 0.1;
/** Thickness is told for strips of whole steps of width, this wide at the least, mm. */
const WIDTHS = 100;
const NARROWEST = 10;
/** Blanks are looked at in so many places along the slab, no nearer to each other than this, mm. */
const STATIONS = 4;
const LEAST_STEP = 40;
/** Thickness by flat facets may fall this far short of the surface's own, mm. */
const FACETS = 1;

const tan = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);

/** By how much an end may make a top shorter than its length, at the least depth. */
const shortBy = ({ edge, degrees, short }: End, depth: number): number =>
  depth / Math.abs(tan(degrees)) + (edge === 'live' ? short : 0);

/** What each wanted top needs at the least, copies each for itself. */
export function topNeeds(job: Job): TopNeed[] {
  const tops = wantedTops(job);
  const sizeOf = sizeShares(tops);
  return tops.map((top): TopNeed => {
    const shaped = top.shape !== null;
    const square = top.length - shortBy(top.ends.left, top.depth[1]) - shortBy(top.ends.right, top.depth[1]);
    const length = shaped ? SHAPED * top.length : Math.max(SHAPED * top.length, square);
    const depth = shaped ? top.depth[0] * Math.sqrt(1 - SHAPED ** 2) : top.depth[0];
    const along = top.grain === null || Math.abs(top.grain.degrees) + top.grain.tolerance <= job.shop.seam.angle;
    return { top, length, depth, area: length * depth, size: sizeOf(top), along, wide: shaped || top.back === 'live' };
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
          margin: Math.min(...faces.map((face) => face.margin)),
          gap: faces.some(({ outline }) => outline.holes.length > 0) ? 0 : blanksApart(job),
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

/** Each blank is sawn wide of its edges, with a kerf between the two. */
const blanksApart = ({ shop }: Job): number => 2 * shop.jointAllowance + shop.kerf.rip;

function reachOf(faces: readonly FaceStock[], need: TopNeed, job: Job): TopReach {
  const { top, along, wide } = need;
  // Where a defect does not matter, or is ripped out of the way, it bounds nothing.
  const avoid = Object.keys(top.covered).length + Object.keys(top.cutOuts).length === 0;
  const angle = job.shop.seam.angle;
  const length = Math.max(ENDS, need.length - ENDS);
  const found = { one: 0, behind: 0, strips: 0, lanes: 1, unread: false, sigma: Infinity };
  for (const face of faces) {
    const offered = offeredTo(top, face);
    if (!along) {
      found.one = found.behind = found.strips = Infinity;
    } else if (wide) {
      const across = mostAcross(offered, 0, avoid) + ROUNDING;
      found.one = found.behind = found.strips = Math.max(found.one, across);
    } else {
      const depths = depthsWithin(offered, { length, angle, least: top.leastStrip }, avoid);
      // From one slab two strips may lie one after the other.
      const lanes = Math.max(1, Math.floor((lengthOf(face) + ENDS) / need.length));
      const live = top.front === 'live';
      found.one = Math.max(found.one, live ? depths.live : depths.straight);
      found.behind = Math.max(found.behind, depths.straight);
      found.strips = Math.max(found.strips, lanes * Math.max(live ? depths.live : 0, depths.together));
      found.lanes = Math.max(found.lanes, lanes);
    }
    found.unread ||= !isRead(face);
    found.sigma = Math.min(found.sigma, face.margin / 2);
  }
  const known = new Map<number, number>();
  return {
    ...found,
    thickness(width) {
      const least = Math.max(NARROWEST, WIDTHS * Math.floor(width / WIDTHS));
      const most = known.get(least) ?? Math.max(...faces.map((face) => thickestOf(face, need, least, job)));
      known.set(least, most);
      return most;
    },
  };
}

const isRead = (face: FaceStock): boolean => face.facets() !== null && face.toReadings !== null;

type Depths = Readonly<Record<'live' | 'straight' | 'together', number>>;
const DEPTHS = ['live', 'straight', 'together'] as const;

/**
 * Depths that no strip exceeds at whatever angle: a strip at an angle holds one at the angle next to it that is less deep by what the two stray apart
 * over the length. Where that might decide the most, the angles between are looked at too.
 */
function depthsWithin(
  face: FaceStock,
  { length, angle, least }: { readonly length: number; readonly angle: number; readonly least: number },
  avoid: boolean,
): Depths {
  const strays = (degrees: number): number => (length + ENDS) * tan(degrees) + ROUNDING;
  const at = (turn: number): Depths =>
    mostDepths(face, { length, angle: 0, turn, least: least - strays(HALF_STEP) }, avoid);
  const most = (of: readonly Depths[], by: number): Depths => {
    const best = (which: (typeof DEPTHS)[number]): number => Math.max(0, ...of.map((one) => one[which])) + by;
    return { live: best('live'), straight: best('straight'), together: best('together') };
  };
  const coarse = anglesOf({ angle }).map((turn) => ({ turn, depths: at(turn) }));
  const known = most(
    coarse.map(({ depths }) => depths),
    strays(HALF_FINE),
  );
  const fine = coarse
    .filter(({ depths }) => DEPTHS.some((which) => depths[which] + strays(HALF_STEP) > known[which]))
    .flatMap(({ turn }) => [at(turn - 2 * HALF_FINE), at(turn + 2 * HALF_FINE)]);
  return most([known, ...fine.map((depths) => most([depths], strays(HALF_FINE)))], 0);
}

const lengthOf = (face: FaceStock): number => bounds(face.outline.outer).maxX - bounds(face.outline.outer).minX;

/**
 * Finished thickness that no blank of the top can exceed: among bands along the slab, set so closely that every blank holds one of them, the thickest.
 * A part of a blank never finishes thinner than the blank.
 * @param width of the strip at the least, mm
 */
function thickestOf(face: FaceStock, need: TopNeed, width: number, job: Job): number {
  const facets = face.facets();
  if (!facets || !face.toReadings) return -Infinity;
  const { minX, maxX, minY, maxY } = bounds(face.outline.outer);
  const { step, reach, band } = bandsOf(maxX - minX, need, width, (job.shop.seam.angle * Math.PI) / 180);
  let most = -Infinity;
  for (let x = minX + step / 2; x + reach <= maxX; x += step) {
    for (let y = minY; y + band <= maxY; y += band) {
      const row = applyAll(face.toReadings, rectangle<'face'>(x, y, x + reach, y + band));
      most = Math.max(most, thicknessOfBlank(facets, row).thickest);
    }
  }
  return finishedThickness(most, flatteningShop(face.flitch, face.slab, job.shop)) + FACETS;
}

/**
 * Bands one of which every strip holds: how long and how wide they are, how far one begins from the next. The middle of a turned strip, where both its
 * edges are, is a little shorter than the strip and holds a band along the slab that is narrower by what it turns over that; half of it fits the grid.
 * @param turn that a strip may have, radians
 */
function bandsOf(slab: number, { length, along }: TopNeed, width: number, turn: number) {
  if (!along) {
    const side = Math.min(width, length) / Math.SQRT2 / 2;
    return { step: side, reach: side, band: side };
  }
  const middle = Math.max(width, length * Math.cos(turn) - width * Math.sin(turn));
  const step = Math.min(middle / 2, Math.max(LEAST_STEP, (slab - middle) / STATIONS));
  const reach = Math.min(middle - step, width / 2 / Math.tan(turn));
  return { step, reach, band: (width - reach * Math.tan(turn)) / 2 };
}
