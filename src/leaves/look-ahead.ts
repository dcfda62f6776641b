import { bounds } from '../geometry';
import { type FacePicture, rasterOf, sample } from '../raster';
import { type Control, pause, stage } from '../search';
import { coarser, type FaceFigure, faceFigures, laidOn } from './drift';
import { type Lie, type PicturedFace, turnsOf } from './drift-types';
import type { EndGrain } from './end-grain';
import { followRings, type JoinedRings } from './follow-rings';
import { type PithCourse, ringThrough, rowOfRing } from './pith-course';

/** A board whose two faces were photographed, before it is sawn. */
export interface BoardFaces {
  readonly top: PicturedFace;
  /** As it was photographed, turned over. */
  readonly bottom: PicturedFace;
  /** How it was turned: over about the grain, as a page, or about the line across it. */
  readonly lie: Lie;
  readonly thickness: number;
  readonly endGrain: EndGrain;
}

/** An estimate of what a cut will lay open: no photo. */
export interface ForeseenFace {
  /** mm below the upper face. */
  readonly depth: number;
  /** In the frame of the upper face. */
  readonly picture: FacePicture;
}

/** What the two faces tell of the leaves between them. */
export interface LookAhead {
  readonly faces: readonly ForeseenFace[];
  /** How alike both faces are to the one run of rings that was found in them, 0..1. */
  readonly likeness: number;
  /** Lines can be trusted so far from either face, mm; deeper only their run and spacing. */
  readonly reach: number;
}

/** Share of the thickness, about its middle, over which one face's picture gives way to the other's. */
const FADE = 0.35;
/**
 * Lines stand within about half a ring of where they will be (correlation .45 and more) so far from a face, mm, by how well the rings were followed:
 * measured on the rendered oak board and on drawn logs that it was not settled on (`npm run accuracy -- leaves`).
 */
const REACHES = [
  { from: 0.74, mm: 15 },
  { from: 0.67, mm: 9 },
  { from: 0.63, mm: 6 },
  { from: 0.58, mm: 3 },
] as const;
const LEAST_REACH = 1.5;

/**
 * Looks ahead: the figure of each face that a planned sequence of cuts will lay open, from both faces of the board, carried along the rings through its
 * thickness. An estimate: between the faces, what rings are not round by is taken to grow evenly from what it is on the one to what it is on the other.
 * @param depths of the faces wanted, mm below the upper face
 * @returns null where nothing was read at the end grain
 * @throws Cancelled
 */
export async function lookAhead(
  board: BoardFaces,
  depths: readonly number[],
  control: Control,
): Promise<LookAhead | null> {
  await pause(control, 0, 'Reading the faces of the board');
  const [top, bottom] = faceFigures([board.top, board.bottom]).map(coarser);
  if (!top || !bottom) throw new RangeError('A board has two faces.');
  const { stations, rows } = top;
  const faces = [top.lines, laidOn(top, bottom, board.lie).lines] as const;
  const { thickness, endGrain } = board;
  const joined = await followRings({ stations, rows, thickness, faces }, endGrain, stage(control, 0.05, 0.9));
  if (!joined) return null;
  const foreseen: ForeseenFace[] = [];
  for (const [i, depth] of depths.entries()) {
    await pause(control, 0.9 + (0.1 * i) / depths.length, 'Drawing the leaves to come');
    foreseen.push({ depth, picture: foreseenAt(board, top, joined, depth) });
  }
  const { likeness } = joined.labels;
  return { faces: foreseen, likeness, reach: REACHES.find(({ from }) => likeness >= from)?.mm ?? LEAST_REACH };
}

/** A level of the board, 1 mm a pixel, on the rows of its upper face. */
function foreseenAt(board: BoardFaces, top: FaceFigure, joined: JoinedRings, depth: number): FacePicture {
  const { rows, x0, y0 } = top;
  const width = Math.round(top.stations * top.station);
  const data = new Uint8ClampedArray(width * rows * 3);
  const far = farPlace(board);
  const share = Math.max(0, Math.min(1, (depth / board.thickness - 0.5) / FADE + 0.5));
  const [ofTop, ofBottom]: [number[], number[]] = [[], []];
  for (let c = 0; c < width; c++) {
    const x = x0 + c + 0.5;
    const column = columnAt(joined, top, board.thickness, (c + 0.5) / top.station - 0.5);
    for (let r = 0; r < rows; r++) {
      const ring = ringAtLevel(column, r, depth, board.thickness);
      const upper = rowFor(column, column.upper, r, ring);
      const lower = rowFor(column, column.lower, r, ring);
      read(board.top.picture, x, y0 + upper.row + 0.5, ofTop);
      const [farX, farY] = far(x, y0 + lower.row + 0.5);
      read(board.bottom.picture, farX, farY, ofBottom);
      const weight = upper.shown === lower.shown ? share : upper.shown ? 0 : 1;
      for (let k = 0; k < 3; k++)
        data[3 * (r * width + c) + k] = (1 - weight) * (ofTop[k] ?? 0) + weight * (ofBottom[k] ?? 0);
    }
  }
  return { raster: rasterOf(width, rows, 3, data), mmPerPx: 1, x0, y0 };
}

/** The rings of both faces along one line across the board, and what a round course leaves of them. */
interface Column {
  readonly pith: number;
  readonly deep: number;
  readonly shape: PithCourse['shape'];
  readonly upper: Float32Array;
  readonly lower: Float32Array;
  readonly offUpper: Float32Array;
  readonly offLower: Float32Array;
}

/** Between two stations rings run straight. @param at station, a fraction */
function columnAt(
  { course, labels }: JoinedRings,
  { stations, rows }: FaceFigure,
  thickness: number,
  at: number,
): Column {
  const whole = Math.max(0, Math.min(stations - 2, Math.floor(at)));
  const f = Math.max(0, Math.min(1, at - whole));
  const mix = (values: ArrayLike<number>, step: number, r = 0) =>
    (1 - f) * (values[whole * step + r] as number) + f * (values[(whole + 1) * step + r] as number);
  const [pith, deep] = [mix(course.across, 1), mix(course.deep, 1)];
  const across = (of: (r: number) => number) => Float32Array.from({ length: rows }, (_, r) => of(r));
  const [upper, lower] = [across((r) => mix(labels.upper, rows, r)), across((r) => mix(labels.lower, rows, r))];
  const off = (rings: Float32Array, v: number) =>
    across((r) => (rings[r] as number) - ringThrough(r - pith, v, course.shape));
  return {
    pith,
    deep,
    shape: course.shape,
    upper,
    lower,
    offUpper: off(upper, deep),
    offLower: off(lower, deep - thickness),
  };
}

/** The ring at a depth: the course's own, and what the faces above and below it leave. */
function ringAtLevel(
  { pith, deep, shape, offUpper, offLower }: Column,
  r: number,
  depth: number,
  thickness: number,
): number {
  const share = depth / thickness;
  return (
    ringThrough(r - pith, deep - depth, shape) + (1 - share) * (offUpper[r] as number) + share * (offLower[r] as number)
  );
}

/** The row of a face where a ring comes out; where it does not, the nearest to it that does. */
function rowFor({ pith }: Column, rings: Float32Array, r: number, ring: number) {
  const side = r >= pith ? 1 : -1;
  const row = rowOfRing(rings, 0, rings.length, pith, side, ring);
  if (!Number.isNaN(row)) return { row, shown: true };
  const last = rings.length - 1;
  const near = Math.max(0, Math.min(last, Math.round(pith)));
  const edge = side > 0 ? last : 0;
  return { row: ring < (rings[near] as number) || (edge - pith) * side < 0 ? near : edge, shown: false };
}

/** From a place of the upper face to the far one's own frame. */
function farPlace({ top, bottom, lie }: BoardFaces): (x: number, y: number) => readonly [number, number] {
  const [box, far] = [bounds(top.outline), bounds(bottom.outline)];
  const [along, across] = turnsOf(lie);
  return (x, y) => [
    (far.minX + far.maxX) / 2 + along * (x - (box.minX + box.maxX) / 2),
    (far.minY + far.maxY) / 2 + across * (y - (box.minY + box.maxY) / 2),
  ];
}

/** The colour of a face at a place, of its nearest pixel where the place is beside it. */
function read({ raster, mmPerPx, x0, y0 }: FacePicture, x: number, y: number, out: number[]): void {
  sample(raster, (x - x0) / mmPerPx - 0.5, (y - y0) / mmPerPx - 0.5, out);
  if (raster.channels === 1) out[1] = out[2] = out[0] as number;
}
