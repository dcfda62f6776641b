import { centroid, contains, type Polygon } from '../geometry';
import { type FacePicture, labPlanes, maskOf } from '../raster';
import { type Cv, scope } from './cv';
import { evenLight } from './even-light';
import { seedMask } from './hints';
import { leafRims } from './leaf-rims';
import { cellsOf, ratherOne, sharesOf } from './likeness';
import { gridOf, longerAs, seenMask, shrink } from './pictures';
import { toldApart } from './segment';
import { taught } from './teaching';
import type { TraceOptions } from './trace-types';

/** Longer side at which the picture is cut, px. */
const SEGMENT_PX = 800;
/** Strips of floor that look like wood are narrower than twice this, mm. */
const OPENING = 12;
/** Pixels from which colours can be learnt. */
const ENOUGH = 500;

/**
 * Roughly where each piece of wood lies, by one cut through the picture as a whole (GrabCut): sure of a leaf by itself on a bench of wood, in
 * dappled light; it closes the gap between two that lie a finger apart. The floor is learnt from outside the marks.
 */
export function leavesByCut(cv: Cv, picture: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const whole = evenLight(shrink(cv, picture, longerAs(picture, SEGMENT_PX)));
  const pieces = woodIn(cv, whole, hints);
  // Marks that lie beside the leaves lie on what the leaves lie on: a bench of wood was found, and the leaves are to be told from it.
  const bench = pieces.find((ring) => holdsMarks(ring, hints));
  return bench ? woodIn(cv, only(whole, bench), hints) : pieces;
}

const holdsMarks = (ring: Polygon<'face'>, { laid = [] }: TraceOptions): boolean =>
  laid.some(({ polygon, onWood }) => !onWood && contains(ring, centroid(polygon)));

/** The picture without what lies outside a ring. */
function only(picture: FacePicture, ring: Polygon<'face'>): FacePicture {
  const { width, height, channels } = picture.raster;
  const within = maskOf(gridOf(picture), [{ outer: ring, holes: [] }]);
  const seen = seenMask(picture);
  const data = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < within.length; i++) {
    for (let k = 0; k < 3; k++)
      data[4 * i + k] = picture.raster.data[i * channels + (channels === 1 ? 0 : k)] as number;
    data[4 * i + 3] = within[i] && seen[i] ? 255 : 0;
  }
  return { ...picture, raster: { width, height, channels: 4, data } };
}

function woodIn(cv: Cv, whole: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const grid = gridOf(whole);
  const first = unlikeGround(whole, seedMask(grid, hints));
  return scope(cv, (own) => {
    const told = toldApart(cv, own, whole, hints, taught(whole, hints, first));
    return told ? leafRims(cv, own, told.wood, { grid, opening: OPENING, seen: told.seen }) : [];
  });
}

/**
 * A first guess without what looks like its surroundings: between leaves, the ground shows within the marks too. Each colour is taken for what it is
 * commoner in, within or without.
 */
function unlikeGround(whole: FacePicture, guess: Uint8Array): Uint8Array {
  const lab = labPlanes(whole.raster);
  const cells = cellsOf({ L: lab.L.data, a: lab.a.data, b: lab.b.data });
  const seen = seenMask(whole);
  const ground = guess.map((v, i) => (!v && seen[i] ? 1 : 0));
  const [one, other] = [sharesOf(cells, guess, ENOUGH), sharesOf(cells, ground, ENOUGH)];
  if (!one || !other) return guess;
  const rather = ratherOne(cells, one, other);
  const left = guess.map((v, i) => (v && (rather[i] as number) > 0 ? 1 : 0));
  return left.reduce((sum: number, v) => sum + v, 0) > ENOUGH ? left : guess;
}
