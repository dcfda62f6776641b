import { finishedThickness, thicknessOfBlank } from '../flattening';
import { applyAll, bounds, rectangle } from '../geometry';
import { type Job, slabKey, type Top, wantedTops } from '../job';
import { calmestFront, mostDepths } from './columns';
import { offeredTo } from './sapwood';
import { isPlain, searchedTop } from './sawn';
import { type FaceStock, once, prepareStock } from './stock';
import { flatteningShop } from './thinnest';
import { jobWith } from './yard-assumed';

/**
 * What one slab, or two side by side, carry of a wanted top, told at once: from sizes, a string and edge thicknesses if that is all there is, sharper
 * as more is known. The columns and surfaces are those of the search, but nothing is searched: each limit is looked up on the slab as it most likely
 * is, and on what is sure of it.
 */

/** What is left over a limit, mm, below 0 where it is missed, and two standard deviations of that. */
export interface Room {
  readonly spare: number;
  readonly plusMinus: number;
}

export type Limit = 'length' | 'depth' | 'thickness' | 'live edge';

/** What slabs carry of one top. */
export interface Carries {
  /** Id of the top. */
  readonly top: string;
  /** slabKeys: of the one piece, or of the strip in front and the one behind it. */
  readonly slabs: readonly string[];
  /** Sure with every ± against it; sure not to with every ± for it; or neither. */
  readonly says: 'carries' | 'may' | 'cannot';
  /** The limits that can be told; the thickness cannot without a reading. */
  readonly rooms: Readonly<Partial<Record<Limit, Room>>>;
  /** The limit that is missed or comes nearest to it; null where sizes alone do not tell: ends at an angle, grain that runs across. */
  readonly worst: Limit | null;
}

/** A face of a slab with what it gives to one top, mm. */
interface Strip {
  readonly key: string;
  /** As it most likely is, and what is sure of it: its outline less its ±. */
  readonly likely: FaceStock;
  readonly sure: FaceStock;
  readonly length: Room;
  /** In front, to the slab's own edge where that is the top's, and behind a seam. */
  readonly front: Room;
  readonly behind: Room;
  /** Finished thickness of a blank over the middle of the slab, as deep as the top, and half as deep; null where nothing was read. */
  readonly whole: () => Room | null;
  readonly half: () => Room | null;
}

/** What was told of slabs before, for as long as nothing changes that it follows from. */
export type CarriesMemo = Map<string, readonly Strip[]>;

/** Columns do not reach the very ends of a slab, mm. */
const ENDS = 20;

/**
 * What every wanted top comes to from each of some sets of slabs.
 * @param sets slabKeys of one slab, or of two of which either may lie in front; a set of which nothing gives an outline is left out
 * @param memo kept from call to call, it makes a further slab cost no more than its own
 */
export function carriesOf(job: Job, sets: readonly (readonly string[])[], memo: CarriesMemo = new Map()): Carries[] {
  return wantedTops(job).flatMap((wanted) => {
    const top = searchedTop(wanted);
    const strips = new Map([...new Set(sets.flat())].map((key) => [key, stripsOf(job, key, top, memo)]));
    return sets.flatMap((set) => {
      const [first = [], second = []] = set.map((key) => strips.get(key) ?? []);
      const ways =
        set.length === 1
          ? first.map((strip) => alone(top, strip, job))
          : top.seams === 0
            ? []
            : first.flatMap((a) => second.flatMap((b) => [paired(top, a, b, job), paired(top, b, a, job)]));
      const [best] = ways.sort((a, b) => ORDER[a.says] - ORDER[b.says] || tightest(b) - tightest(a));
      return best ?? [];
    });
  });
}

const ORDER = { carries: 0, may: 1, cannot: 2 } as const;

const tightest = ({ rooms }: Carries): number => Math.min(...Object.values(rooms).map(atWorst));

const atWorst = ({ spare, plusMinus }: Room): number => spare - plusMinus;

/** Every face of a slab as it stands for a top. */
function stripsOf(job: Job, key: string, top: Top, memo: CarriesMemo): readonly Strip[] {
  const own = jobWith(job, [key]);
  const flitches = Object.values(own.flitches).filter(({ slabs }) => Object.keys(slabs).length > 0);
  const name = JSON.stringify([flitches, top, job.shop]);
  const known = memo.get(name);
  if (known) return known;
  const sharp = structuredClone(jobWith(withoutHoles(job), [key]));
  for (const { slabs } of Object.values(sharp.flitches))
    for (const { faces } of Object.values(slabs)) for (const face of Object.values(faces)) face.outlineSigma = 0;
  const likely = prepareStock(sharp, new Map());
  const strips = prepareStock(own, new Map()).map((sure, i) => stripOf(likely[i] as FaceStock, sure, top, job));
  memo.set(name, strips);
  return strips;
}

/**
 * The job with its taped slabs as wide as they are: a top shorter than the slab may lie beside a hole along it, so that what is clear beside the hole
 * all along is what is sure, and all of the width is what may be.
 */
function withoutHoles(job: Job): Job {
  const flitches = Object.values(job.flitches).map((flitch) => {
    const slabs = Object.values(flitch.slabs).map((slab) =>
      slab.taped ? { ...slab, taped: { ...slab.taped, clear: null } } : slab,
    );
    return { ...flitch, slabs: Object.fromEntries(slabs.map((slab) => [slab.id, slab])) };
  });
  return { ...job, flitches: Object.fromEntries(flitches.map((flitch) => [flitch.id, flitch])) };
}

function stripOf(likely: FaceStock, sure: FaceStock, top: Top, job: Job): Strip {
  const gives = (stock: FaceStock) => {
    const length = lengthOf(stock) - 2 * stock.margin;
    const over = { length: Math.min(top.length, length - ENDS), angle: job.shop.seam.angle, least: top.leastStrip };
    const { live, straight } = mostDepths(offeredTo(top, stock), over, true);
    return { length: length - top.length, front: top.front === 'live' ? live : straight, behind: straight };
  };
  const [most, least] = [gives(likely), gives(sure)];
  const room = (of: keyof typeof most): Room => ({ spare: most[of], plusMinus: Math.max(0, most[of] - least[of]) });
  const half = Math.min(Math.max(top.leastStrip, top.depth[0] / 2), Math.max(1, least.behind));
  return {
    key: slabKey(sure.flitch.id, sure.slab.id),
    likely,
    sure,
    length: room('length'),
    front: room('front'),
    behind: room('behind'),
    whole: once(() => thicknessOf(sure, top.depth[0], top, job)),
    half: once(() => thicknessOf(sure, half, top, job)),
  };
}

const lengthOf = ({ outline }: FaceStock): number => {
  const { minX, maxX } = bounds(outline.outer);
  return maxX - minX;
};

function alone(top: Top, strip: Strip, job: Job): Carries {
  const [least] = top.depth;
  const depth = { ...strip.front, spare: strip.front.spare - least };
  return carried(top, [strip.key], { length: strip.length, depth, ...edgeRoom(strip, least, top, job) }, [strip.whole]);
}

function paired(top: Top, front: Strip, back: Strip, job: Job): Carries {
  const [least] = top.depth;
  const [a, b] = [front.front.spare, back.behind.spare];
  const rooms = {
    length: atWorst(front.length) < atWorst(back.length) ? front.length : back.length,
    depth: {
      // However wide the one is, the other must give a strip that is worth having.
      spare: Math.min(a + b - least, Math.min(a, b) - top.leastStrip),
      plusMinus: front.front.plusMinus + back.behind.plusMinus,
    },
    ...edgeRoom(front, Math.max(top.leastStrip, least - b), top, job),
  };
  return carried(top, [front.key, back.key], rooms, [front.half, back.half]);
}

/** @param thicknesses of the strips; looked up only where the slabs are large enough, for it takes a while */
function carried(
  top: Top,
  slabs: readonly string[],
  sizes: Carries['rooms'],
  thicknesses: readonly (() => Room | null)[],
): Carries {
  const tooSmall = Object.values(sizes).some(isMissed);
  const read = tooSmall ? [] : thicknesses.map((thickness) => thickness());
  const thinnest = read.reduce((a, b) => (a && b ? (atWorst(a) < atWorst(b) ? a : b) : null), read[0] ?? null);
  const rooms = { ...sizes, ...(thinnest && { thickness: thinnest }) };
  const known = Object.entries(rooms) as [Limit, Room][];
  const cannot = known.some(([, room]) => isMissed(room));
  const sure = isTold(top) && thinnest !== null && known.every(([, room]) => atWorst(room) >= 0);
  const [worst] = known.sort(([, p], [, q]) => inSigmas(p) - inSigmas(q));
  return {
    top: top.id,
    slabs,
    says: cannot ? 'cannot' : sure ? 'carries' : 'may',
    rooms,
    worst: cannot || isTold(top) ? (worst?.[0] ?? null) : null,
  };
}

const isMissed = ({ spare, plusMinus }: Room): boolean => spare + plusMinus < 0;

/** By how many of its own ± a limit is kept. */
const inSigmas = ({ spare, plusMinus }: Room): number => spare / Math.max(1, plusMinus);

/** Whether a box of the top's length and depth along the slab is all that it asks for. */
const isTold = (top: Top): boolean => isPlain(top) && top.back === 'straight' && top.grain === null;

/** What a blank along the middle of a slab finishes at over what is wanted; null where the slab was not read. */
function thicknessOf(stock: FaceStock, width: number, top: Top, { shop }: Job): Room | null {
  const surfaces = stock.surfaces();
  if (!surfaces || !stock.toReadings) return null;
  const { minX, maxX, minY, maxY } = bounds(stock.outline.outer);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const [along, across] = [top.length / 2 + shop.endAllowance, width / 2 + shop.jointAllowance];
  const blank = rectangle<'face'>(x - along, y - across, x + along, y + across);
  const { thickest, sigma } = thicknessOfBlank(surfaces, applyAll(stock.toReadings, blank));
  const finished = finishedThickness(thickest, flatteningShop(stock.flitch, stock.slab, shop));
  return { spare: finished - top.thickness, plusMinus: 2 * sigma };
}

/**
 * How much less than its band of depths a live front swings; nothing where the front is sawn straight. Between taped widths it swung by up to 30 mm
 * more than told (six rendered and forty invented slabs, strips of 1,100 to 2,200 mm): no more than the ± of such an outline.
 */
function edgeRoom({ likely, sure }: Strip, least: number, top: Top, job: Job): Pick<Carries['rooms'], 'live edge'> {
  if (top.front === 'straight') return {};
  const length = Math.min(top.length, lengthOf(likely) - ENDS);
  const swing = calmestFront(offeredTo(top, likely), { length, angle: job.shop.seam.angle, least }, true);
  return swing === null ? {} : { 'live edge': { spare: top.depth[1] - top.depth[0] - swing, plusMinus: sure.margin } };
}
