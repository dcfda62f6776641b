import {
  type Affine,
  apply,
  applyAll,
  bounds,
  crossingsAtX,
  intersection,
  invert,
  largestRing,
  type Polygon,
  rectangle,
  type Segment,
} from '../geometry';
import {
  commonDepth,
  type GrainLine,
  grainLines,
  type Job,
  type Meeting,
  notOneLine,
  type Shop,
  type Strip,
  type Top,
  topGroups,
  wantedTop,
} from '../job';
import type { Candidate } from './candidate';
import { stripInTop } from './strips';

/**
 * Tops through which the grain goes on are laid out as one long top, and cut to length from its strips: then they lie one after the other on
 * the slab whatever it is sought by, with only the saw's kerf between.
 */

/** A line of tops as the one long top that it is laid out as. */
export interface LineTop extends Top {
  readonly line: GrainLine;
}

const isLine = (top: Top): top is LineTop => 'line' in top;

/** Farther than any slab reaches, mm. */
const FAR = 1e5;

/** What the saw takes between two pieces, mm along the face that shows: a blade that leans 45 degrees for a mitre takes more of it. */
const gapOf = (meeting: Meeting, shop: Pick<Shop, 'kerf'>): number =>
  meeting === 'folds down' ? shop.kerf.crosscut * Math.SQRT2 : shop.kerf.crosscut;

/** x at which each piece of a line begins in the long top. */
function startsOf({ tops, meets }: GrainLine, shop: Pick<Shop, 'kerf'>): number[] {
  const starts = [0];
  tops.slice(1).forEach((_, i) => {
    starts.push((starts[i] as number) + (tops[i] as Top).length + gapOf(meets[i] as Meeting, shop));
  });
  return starts;
}

/** The long top of a line. Its id is that of its first top, so that what is said of it is said of a top of the job. */
function lineTop(line: GrainLine, shop: Shop): LineTop {
  const { tops, run } = line;
  const starts = startsOf(line, shop);
  const [first, last] = [tops[0], tops.at(-1)] as [Top, Top];
  const moved = <T extends { id: string; polygon: Polygon<'top'> }>(of: (top: Top) => Record<string, T>) =>
    Object.fromEntries(
      tops.flatMap((top, i) =>
        Object.values(of(top)).map((zone) => {
          const polygon = zone.polygon.map(([x, y]) => [x + (starts[i] as number), y] as const);
          return [`${i}-${zone.id}`, { ...zone, polygon }] as const;
        }),
      ),
    );
  const swings = tops.flatMap(({ swing }) => swing ?? []);
  const wishes = tops.map(({ sapwood }) => sapwood);
  return {
    ...first,
    line,
    name: run.name,
    length: (starts.at(-1) as number) + last.length,
    depth: commonDepth(tops),
    ends: { right: first.ends.right, left: last.ends.left },
    swing: swings.length > 0 ? Math.min(...swings) : null,
    seams: Math.min(...tops.map(({ seams }) => seams)),
    leastStrip: Math.max(...tops.map(({ leastStrip }) => leastStrip)),
    covered: moved(({ covered }) => covered),
    noSeam: moved(({ noSeam }) => noSeam),
    cutOuts: moved(({ cutOuts }) => cutOuts),
    scribe: {
      back: Math.max(...tops.map(({ scribe }) => scribe.back)),
      right: first.scribe.right,
      left: last.scribe.left,
    },
    wallBow: Math.max(...tops.map(({ wallBow }) => wallBow)),
    grain: tops.find(({ grain }) => grain !== null)?.grain ?? null,
    liked: first.liked.filter((kind) => tops.every(({ liked }) => liked.includes(kind))),
    sapwood: wishes.includes('not') ? 'not' : wishes.includes('wanted') ? 'wanted' : 'allowed',
  };
}

/**
 * The tops that are laid out by themselves, copies of one together, in the order of the job: a line of grain stands, as one long top, where
 * its first top does. Tops that are said to be a line and cannot be one are not among them.
 */
export function groupsToLay(job: Job): Top[][] {
  const lines = grainLines(job);
  return topGroups(job).flatMap((group) => {
    const [first] = group;
    const line = lines.find(({ tops }) => tops.some(({ id }) => id === first?.id));
    if (!line) return [group];
    if (line.tops[0]?.id !== first?.id || notOneLine(line)) return [];
    return [[lineTop(line, job.shop)]];
  });
}

/** x of the long top at which one of its tops begins, mm; 0 for a top that is laid out by itself. */
export const startIn = (top: Top, id: string, shop: Pick<Shop, 'kerf'>): number =>
  isLine(top) ? (startsOf(top.line, shop)[top.line.tops.findIndex((one) => one.id === id)] ?? 0) : 0;

/** The top as it is laid out: for one of a line of grain the line's long top; undefined where the job wants it no more. */
export const laidAs = (job: Job, id: string): Top | undefined =>
  groupsToLay(job)
    .flat()
    .find((top) => idsOf(top).includes(id)) ?? wantedTop(job, id);

/** The tops that are laid out as this one: itself, or those of its whole line. */
export const topsIn = (top: Top): readonly Top[] => (isLine(top) ? top.line.tops : [top]);

/** Their ids. */
export const idsOf = (top: Top): string[] => topsIn(top).map(({ id }) => id);

/** The locks of a job, each with those of the tops that are cut from the same strips: none of them can move alone. */
export function lockedWith(job: Job): { readonly plan: string; readonly top: string }[] {
  const lines = grainLines(job).map(({ tops }) => tops.map(({ id }) => id));
  const known = new Set<string>();
  return Object.values(job.locks)
    .flatMap(({ plan, top }) => (lines.find((ids) => ids.includes(top)) ?? [top]).map((id) => ({ plan, top: id })))
    .filter(({ top }) => !known.has(top) && known.add(top));
}

const largest = (a: Polygon<'top'>, b: Polygon<'top'>): Polygon<'top'> | null =>
  largestRing(intersection([{ outer: a, holes: [] }], [{ outer: b, holes: [] }]));

/** A strip of the long top as a strip of the piece that begins at `start` of it, between two x of the piece. */
function slice(strip: Strip, start: number, [from, to]: readonly [number, number]): Strip | null {
  const [a, b, c, d, e, f] = strip.toTop;
  const toPiece: Affine<'face', 'top'> = { m: [a, b, c, d, e - start, f] };
  const toFace = invert(toPiece);
  const window = rectangle<'top'>(from, -FAR, to, FAR);
  const [finished, rough] = [strip.finished, strip.rough].map((ring) => largest(applyAll(toPiece, ring), window));
  if (!finished || !rough) return null;
  const joint = (line: Segment<'face'> | null): Segment<'face'> | null => {
    if (!line) return null;
    const [p, q] = applyAll(toPiece, line) as [readonly [number, number], readonly [number, number]];
    const at = (x: number) => {
      const t = Math.min(1, Math.max(0, (x - p[0]) / (q[0] - p[0])));
      return apply(toFace, [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])] as const);
    };
    return [at(from), at(to)];
  };
  return {
    ...strip,
    toTop: [...toPiece.m],
    finished: applyAll(toFace, finished),
    rough: applyAll(toFace, rough),
    jointFront: joint(strip.jointFront),
    jointBack: joint(strip.jointBack),
  };
}

/** Depth of strips one behind the other, least and most over the length: exact, since it is looked at beside every corner. */
function depthOf(strips: readonly Strip[]): [least: number, most: number] {
  const rings = strips.map(stripInTop);
  const { minX, maxX } = bounds(rings.flat());
  const xs = rings.flatMap((ring) => ring.flatMap(([x]) => [x - 1e-6, x + 1e-6])).filter((x) => x > minX && x < maxX);
  const depths = xs.map((x) =>
    rings.reduce((sum, ring) => {
      const ys = crossingsAtX(ring, x);
      return ys.length === 0 ? sum : sum + (ys.at(-1) as number) - (ys[0] as number);
    }, 0),
  );
  return [Math.min(...depths), Math.max(...depths)];
}

/** The pieces of a place of a long top, in the order of its line; null where one of them gets no wood. */
function piecesOf(candidate: Candidate, { line }: LineTop, shop: Shop): Candidate[] | null {
  const { placement, stock } = candidate;
  const starts = startsOf(line, shop);
  const pieces = line.tops.map((top, i): Candidate | null => {
    const start = starts[i] as number;
    const window = [i === 0 ? -FAR : 0, i + 1 === line.tops.length ? FAR : top.length] as const;
    const strips = placement.strips.map((strip) => slice(strip, start, window));
    if (!strips.every((strip) => strip !== null)) return null;
    const square = top.ends.right.degrees === 90 && top.ends.left.degrees === 90;
    return {
      top,
      stock,
      placement: {
        ...placement,
        top: top.id,
        strips,
        depth: square ? depthOf(strips) : placement.depth,
      },
    };
  });
  return pieces.every((piece) => piece !== null) ? pieces : null;
}

/**
 * A place as it is chosen: that of a line with its pieces, null where it does not give them; others as they are. The pieces are one board until
 * they are parted, when it is flat: its thickness is theirs.
 */
export function inPieces(candidate: Candidate, shop: Shop): Candidate | null {
  const { top } = candidate;
  if (!isLine(top)) return candidate;
  const pieces = piecesOf(candidate, top, shop);
  return pieces && { ...candidate, pieces };
}

/** Pieces with the thickness of their board. */
export const asThick = (pieces: readonly Candidate[], thickness: number | null): Candidate[] =>
  pieces.map((piece) => ({ ...piece, placement: { ...piece.placement, thickness } }));
