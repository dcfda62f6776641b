import { type Affine, affine, apply, applyAll, bounds, type Point, type Polygon, type Segment } from '../geometry';
import {
  compareEdges,
  type FaceFeatures,
  type Figure,
  faceFeatures,
  type JointSide,
  readEdge,
  SidesOfFace,
  scoreJoint,
  unlikeness,
  type WoodFace,
} from '../grain';
import type { FaceName } from '../job';
import { type FacePicture, type Grid, warp } from '../raster';
import type { SlotJoint } from './set-slots';
import type { BenchLeaf, LeafFace } from './set-types';

/** Joint lines nearer to the grain than this are read as they are; others after the leaf's picture is turned, so that they are level. */
const LEVEL = 15;

/** A line along the grain. */
const ALONG: Segment<'face'> = [
  [0, 0],
  [1, 0],
];

/** A leaf in a slot: which one, and where the slot's frame begins on it. */
export interface Placed {
  /** Its place on the bench. */
  readonly leaf: number;
  readonly at: Point<'face'>;
}

/** What a side of a joint looks like. */
export type Look = JointSide['edge'];
/** What of a joint is measured: its line on each leaf, and the side kept. */
type Lines = Pick<SlotJoint, 'lines' | 'left'>;

/** Degrees by which a line is turned from the grain, 0 where it needs no turning. */
function turnOf([p, q]: Segment<'face'>): number {
  let degrees = (Math.atan2(q[1] - p[1], q[0] - p[0]) * 180) / Math.PI;
  if (degrees > 90) degrees -= 180;
  if (degrees <= -90) degrees += 180;
  const turn = Math.abs(degrees) < LEVEL ? 0 : Math.round(degrees * 1000) / 1000;
  return turn === -90 ? 90 : turn;
}

/** The map that turns a leaf so that a line at `degrees` runs along x. */
function levelled(degrees: number): Affine<'face', 'face'> {
  const t = (-degrees * Math.PI) / 180;
  return affine(Math.cos(t), Math.sin(t), -Math.sin(t), Math.cos(t), 0, 0);
}

/**
 * How well slots meet over the leaves of a bench (DESIGN 5.3), joints along the grain, across it or at any angle. Pictures are read once for each pair of
 * directions; of each line what is read is remembered, so a leaf exchanged costs the reading of its own lines.
 */
export class SetMeter {
  readonly #pictured: readonly { readonly face: LeafFace; readonly picture: FacePicture }[];
  /** Of each leaf, which pictured face stands for its top and its bottom; -1 none. */
  readonly #faceOf: readonly (readonly [top: number, bottom: number])[];
  readonly #features = new Map<string, Map<number, FaceFeatures[]>>();
  readonly #edges = new WeakMap<FaceFeatures, Map<string, Look>>();
  readonly #rough = new WeakMap<FaceFeatures, [SidesOfFace, SidesOfFace]>();
  readonly #parts = { look: 0, known: 0 };

  constructor(
    leaves: readonly BenchLeaf[],
    readonly kerf: number,
  ) {
    const pictured: { face: LeafFace; picture: FacePicture }[] = [];
    const add = (face: LeafFace | null): number =>
      face?.picture ? pictured.push({ face, picture: face.picture }) - 1 : -1;
    this.#faceOf = leaves.map(({ top, bottom }) => {
      const [t, b] = [add(top), add(bottom)];
      return [t < 0 ? b : t, b < 0 ? t : b];
    });
    this.#pictured = pictured;
  }

  /** Whether the faces that two slots show are pictured. */
  knows(a: number, b: number): boolean {
    return (this.#faceOf[a] as readonly number[])[0] !== -1 && (this.#faceOf[b] as readonly number[])[0] !== -1;
  }

  /** Reads all faces for joints along the grain; no joint there waits for it then. */
  readAlong(): void {
    this.#turned({ lines: [ALONG, ALONG] });
  }

  /** The lines of a leaf's face, where faces were read for joints along the grain; null where they were not. */
  linesOf(leaf: number, shown: FaceName): Figure | null {
    const index = (this.#faceOf[leaf] as readonly [number, number])[shown === 'top' ? 0 : 1];
    return this.#features.get('0')?.get(0)?.[index] ?? null;
  }

  /** 1 in the mean over uncut wood; less is better. Exact. */
  cost(joint: Lines, faces: readonly [FaceName, FaceName], a: Placed, b: Placed): number {
    const kin = this.#face(joint, faces, 0, a.leaf).kin;
    return unlikeness(compareEdges(this.look(joint, faces, 0, a), this.look(joint, faces, 1, b), kin, this.#parts));
  }

  /** What one side of a joint looks like. Exact. */
  look(joint: Lines, faces: readonly [FaceName, FaceName], which: 0 | 1, at: Placed): Look {
    const face = this.#face(joint, faces, which, at.leaf);
    const [[px, py], [qx, qy]] = this.#line(joint, which, at);
    const left = joint.left[which];
    const key = `${px} ${py} ${qx} ${qy} ${left}`;
    let known = this.#edges.get(face);
    if (!known) {
      known = new Map();
      this.#edges.set(face, known);
    }
    let read = known.get(key);
    if (!read) {
      const { count, blocks, look, known: share } = readEdge(face, px, py, qx, qy, left);
      read = { count, left, blocks, look, known: share };
      known.set(key, read);
    }
    return read;
  }

  /** What one side of a joint looks like, near enough to lead a search. */
  side(joint: Lines, faces: readonly [FaceName, FaceName], which: 0 | 1, at: Placed): Look {
    const face = this.#face(joint, faces, which, at.leaf);
    let rough = this.#rough.get(face);
    if (!rough) {
      rough = [new SidesOfFace(face, false), new SidesOfFace(face, true)];
      this.#rough.set(face, rough);
    }
    return rough[joint.left[which] ? 1 : 0].read(this.#line(joint, which, at)).edge;
  }

  /** As `cost`, of sides that were read for it, by `side` or by `look`. */
  costs(joint: Lines): (a: Look, b: Look) => number {
    const kin = [...this.#turned(joint).values()][0]?.[0]?.kin;
    return (a, b) => (kin ? unlikeness(compareEdges(a, b, kin, this.#parts)) : 0);
  }

  /** Share of imaginary kerfs in uncut wood that match no better, 0..1. */
  blend(joint: Lines, faces: readonly [FaceName, FaceName], a: Placed, b: Placed): number {
    const side = (which: 0 | 1, at: Placed) =>
      ({ line: this.#line(joint, which, at), keeps: joint.left[which] ? 'left' : 'right' }) as const;
    return scoreJoint(this.#face(joint, faces, 0, a.leaf), side(0, a), this.#face(joint, faces, 1, b.leaf), side(1, b))
      .blend;
  }

  /** A joint's line on a leaf, in the frame that its picture was turned to. */
  #line(joint: Lines, which: 0 | 1, { at }: Placed): Segment<'face'> {
    const line = joint.lines[which];
    const placed: Segment<'face'> = [
      [line[0][0] + at[0], line[0][1] + at[1]],
      [line[1][0] + at[0], line[1][1] + at[1]],
    ];
    const degrees = turnOf(line);
    if (degrees === 0) return placed;
    const map = levelled(degrees);
    return [apply(map, placed[0]), apply(map, placed[1])];
  }

  #face(joint: Lines, faces: readonly [FaceName, FaceName], which: 0 | 1, leaf: number): FaceFeatures {
    const index = (this.#faceOf[leaf] as readonly [number, number])[faces[which] === 'top' ? 0 : 1];
    return this.#turned(joint).get(turnOf(joint.lines[which]))?.[index] as FaceFeatures;
  }

  /** Features of all faces in the two directions of a joint, prepared together. */
  #turned({ lines }: Pick<Lines, 'lines'>): Map<number, FaceFeatures[]> {
    const turns = [...new Set(lines.map(turnOf))].sort((a, b) => a - b);
    const key = turns.join(' ');
    let read = this.#features.get(key);
    if (!read) {
      const faces = turns.flatMap((degrees) =>
        this.#pictured.map(({ face, picture }) => turnedFace(face, picture, degrees)),
      );
      const features = faceFeatures(faces, { kerf: this.kerf });
      const n = this.#pictured.length;
      read = new Map(turns.map((degrees, i) => [degrees, features.slice(i * n, (i + 1) * n)]));
      this.#features.set(key, read);
    }
    return read;
  }
}

/** A leaf's face turned about its frame's origin so that lines at `degrees` run along x. */
function turnedFace({ outline, defects }: LeafFace, picture: FacePicture, degrees: number): WoodFace {
  if (degrees === 0) return { picture, outline: { outer: outline, holes: [] }, defects };
  const map = levelled(degrees);
  const outer: Polygon<'face'> = applyAll(map, outline);
  const box = bounds(outer);
  const { mmPerPx } = picture;
  const grid: Grid = {
    x0: box.minX,
    y0: box.minY,
    mmPerPx,
    width: Math.max(1, Math.ceil((box.maxX - box.minX) / mmPerPx)),
    height: Math.max(1, Math.ceil((box.maxY - box.minY) / mmPerPx)),
  };
  return {
    picture: { raster: warp(picture, map, grid), mmPerPx, x0: grid.x0, y0: grid.y0 },
    outline: { outer, holes: [] },
    defects: defects.map(({ polygon, line }) => ({
      ...(polygon ? { polygon: applyAll(map, polygon) } : {}),
      ...(line
        ? {
            line: line.map(([x, y, w]) => {
              const [tx, ty] = apply(map, [x, y] as Point<'face'>);
              return [tx, ty, w] as const;
            }),
          }
        : {}),
    })),
  };
}
