import { bounds } from '../geometry';
import { type FacePicture, rasterOf, sample } from '../raster';
import { type Control, pause, stage } from '../search';
import { coarser, faceFigures, laidOn } from './drift';
import { type Lie, type PicturedFace, turnsOf } from './drift-types';
import { type JoinedRings, joinedRings, type KnownRings } from './look-ahead-rings';
import { pithAt, ringShift } from './ring-course';

/** A board whose two faces were photographed, before it is sawn. */
export interface BoardFaces {
  readonly top: PicturedFace;
  /** As it was photographed, turned over. */
  readonly bottom: PicturedFace;
  /** How it was turned: over about the grain, as a page, or about the line across it. */
  readonly lie: Lie;
  readonly thickness: number;
}

/** An estimate of what a cut will lay open: no photo. */
export interface ForeseenFace {
  /** mm below the upper face. */
  readonly depth: number;
  /** In the frame of the upper face. */
  readonly picture: FacePicture;
  /** Share of it that both faces of the board tell of, and that neither does: there the nearer face's own picture stands. */
  readonly byBoth: number;
  readonly byNeither: number;
}

/** What the two faces tell of the leaves between them. */
export interface LookAhead {
  readonly faces: readonly ForeseenFace[];
  readonly rings: JoinedRings['rings'];
  /** How alike the board's faces are along the rings; under about .45 they could not be followed. */
  readonly likeness: number;
  /** That it is an estimate, and how good, sentences for the maker. */
  readonly says: readonly string[];
}

/** mm per pixel of an estimate: it has no finer detail to show. */
const MM_PER_PX = 1;
/** Faces less alike than this along the best rings were not followed. */
const FOLLOWED = 0.45;
/** Pixels over which one face's picture gives way to the other's, as a share of the thickness about its middle. */
const FADE = 0.35;

/**
 * Looks ahead: the figure of each face that a planned sequence of cuts will lay open, from both faces of the board, carried along the rings through its
 * thickness. An estimate: between the faces rings are taken to run as circles, and what these do not explain to grow evenly with the depth.
 * @param depths of the faces wanted, mm below the upper face
 * @throws Cancelled
 */
export async function lookAhead(
  board: BoardFaces,
  depths: readonly number[],
  known: KnownRings,
  control: Control,
): Promise<LookAhead> {
  await pause(control, 0, 'Reading the faces of the board');
  const [top, bottom] = faceFigures([board.top, board.bottom]).map(coarser);
  if (!top || !bottom) throw new RangeError('A board has two faces.');
  const joined = await joinedRings(
    top,
    laidOn(top, bottom, board.lie),
    board.thickness,
    known,
    stage(control, 0.1, 0.8),
  );
  const faces: ForeseenFace[] = [];
  for (const [i, depth] of depths.entries()) {
    await pause(control, 0.8 + (0.2 * i) / depths.length, 'Drawing the leaves to come');
    faces.push(foreseen(board, joined, depth));
  }
  const followed = joined.likeness >= FOLLOWED;
  const says = [
    'This is an estimate from both faces of the board: no leaf has been seen yet.',
    followed
      ? 'Near the faces lines stand within a ring or so of where they will be; toward the middle of the board only their run and spacing can be trusted.'
      : 'The rings could not be followed from one face to the other: where they lean little, trust nothing but the run of the figure.',
  ];
  return { faces, rings: joined.rings, likeness: joined.likeness, says };
}

function foreseen({ top, bottom, lie, thickness }: BoardFaces, joined: JoinedRings, depth: number): ForeseenFace {
  const box = bounds(top.outline);
  const width = Math.max(1, Math.round((box.maxX - box.minX) / MM_PER_PX));
  const height = Math.max(1, Math.round((box.maxY - box.minY) / MM_PER_PX));
  const far = bounds(bottom.outline);
  const [along, across] = turnsOf(lie);
  const data = new Uint8ClampedArray(width * height * 3);
  const [ofTop, ofBottom]: [number[], number[]] = [[], []];
  const share = Math.max(0, Math.min(1, (depth / thickness - 0.5) / FADE + 0.5));
  let [both, neither] = [0, 0];
  for (let c = 0; c < width; c++) {
    const x = box.minX + (c + 0.5) * MM_PER_PX;
    const course = pithAt(joined.rings, x);
    const farX = (far.minX + far.maxX) / 2 + along * (x - (box.minX + box.maxX) / 2);
    for (let r = 0; r < height; r++) {
      const y = box.minY + (r + 0.5) * MM_PER_PX;
      const [upper, lower] = ends(course, joined, x, y, depth, thickness);
      const farY = (far.minY + far.maxY) / 2 + across * (lower - (box.minY + box.maxY) / 2);
      const seenTop = upper >= box.minY && upper <= box.maxY && read(top.picture, x, upper, ofTop);
      const seenBottom = farY >= far.minY && farY <= far.maxY && read(bottom.picture, farX, farY, ofBottom);
      const at = 3 * (r * width + c);
      if (seenTop && seenBottom) both++;
      if (!seenTop && !seenBottom) {
        neither++;
        const near = depth <= thickness / 2;
        const mirrored = (far.minY + far.maxY) / 2 + across * (y - (box.minY + box.maxY) / 2);
        read(near ? top.picture : bottom.picture, near ? x : farX, near ? y : mirrored, ofTop);
      }
      const weight = seenTop === seenBottom ? (seenTop ? share : 0) : seenTop ? 0 : 1;
      for (let k = 0; k < 3; k++) data[at + k] = (1 - weight) * (ofTop[k] ?? 0) + weight * (ofBottom[k] ?? 0);
    }
  }
  const picture = { raster: rasterOf(width, height, 3, data), mmPerPx: MM_PER_PX, x0: box.minX, y0: box.minY };
  return { depth, picture, byBoth: both / (width * height), byNeither: neither / (width * height) };
}

/** Where the ring that runs through a place at a depth comes out on the upper face and on the far one, mm across; NaN where it does not. */
function ends(
  [pith, deep]: readonly [number, number],
  joined: JoinedRings,
  x: number,
  y: number,
  depth: number,
  thickness: number,
): readonly [upper: number, lower: number] {
  const inside = (across: number) => across + ringShift(across - pith, deep - depth, -depth);
  let upper = inside(y);
  // What the rings leave grows with the depth, and is known by places of the upper face: this settles at once.
  for (let i = 0; i < 3 && !Number.isNaN(upper); i++) upper = inside(y - (joined.rest(x, upper) * depth) / thickness);
  if (Number.isNaN(upper)) return [upper, y + ringShift(y - pith, deep - depth, thickness - depth)];
  return [upper, upper + ringShift(upper - pith, deep, thickness) + joined.rest(x, upper)];
}

/** The colour of a face at a place; false where its picture does not show it. */
function read({ raster, mmPerPx, x0, y0 }: FacePicture, x: number, y: number, out: number[]): boolean {
  const [u, v] = [(x - x0) / mmPerPx - 0.5, (y - y0) / mmPerPx - 0.5];
  if (!(u >= 0 && v >= 0 && u <= raster.width - 1 && v <= raster.height - 1)) return false;
  sample(raster, u, v, out);
  if (raster.channels === 1) out[1] = out[2] = out[0] as number;
  return true;
}
