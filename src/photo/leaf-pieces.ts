import { type Polygon, ringArea } from '../geometry';
import type { FacePicture } from '../raster';
import { type Cv, scope } from './cv';
import { evenLight } from './even-light';
import { leavesByCut } from './leaf-cut';
import { woodLikeness } from './leaf-ground';
import { leafRims } from './leaf-rims';
import { jointsIn, type Lying, lyingAlong, partedAt } from './leaf-seams';
import { gridOf, longerAs, seenMask, shrink } from './pictures';
import { closed } from './pieces';
import type { TraceOptions } from './trace-types';

/** Longer side at which leaves are told from what they lie on, px: the gaps between them are narrow. */
const SEGMENT_PX = 1400;
/** Cracks, and shadows in them, that are narrower than twice this are wood, mm. */
const CRACK = 3;
/** Strips of floor that look like wood, and bridges between leaves, are narrower than twice this, mm. */
const OPENING = 10;
/** A piece that fills less than this of the smallest box around it is no leaf, one that fills so much more of it surely is one. */
const LOOSE = 0.7;
const TIGHT = 0.25;
/** Leaves found pixel by pixel are believed where they are no less of the wood than this share of what the cut found. */
const BELIEVED = 0.8;

/**
 * Roughly where each piece of wood in a picture lies, no piece being meant more than another. It is told from the bench in two ways: pixel by
 * pixel, which keeps leaves apart that lie a finger's width from each other but is led astray by a bench of wood in dappled light; and by one
 * cut through the picture. The first is taken unless its pieces are less of a leaf, in area and shape.
 */
export function findLeaves(cv: Cv, picture: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const whole = evenLight(shrink(cv, picture, longerAs(picture, SEGMENT_PX)));
  const singly = leavesByPixels(cv, whole, hints);
  const cut = leavesByCut(cv, picture, hints);
  return apart(whole, worth(singly) >= BELIEVED * worth(cut) ? singly : cut);
}

function leavesByPixels(cv: Cv, whole: FacePicture, hints: TraceOptions): Polygon<'face'>[] {
  const like = woodLikeness(whole, hints);
  if (!like) return [];
  const grid = gridOf(whole);
  return scope(cv, (own) => {
    const wood = own(new cv.Mat(grid.height, grid.width, cv.CV_8UC1));
    wood.data.set(like.map((v) => (v > 0 ? 255 : 0)));
    const solid = closed(cv, own, wood, CRACK / grid.mmPerPx);
    return leafRims(cv, own, solid, { grid, opening: OPENING, seen: seenMask(whole) });
  });
}

/** Area of pieces, mm2, each counted by how well it fills the smallest box around it: leaves are sawn square. */
const worth = (rings: readonly Polygon<'face'>[]): number =>
  rings.reduce((sum, ring) => {
    const { half } = lying(ring);
    const full = ringArea(ring) / (4 * half[0] * half[1]);
    return sum + ringArea(ring) * Math.min(1, Math.max(0, (full - LOOSE) / TIGHT));
  }, 0);

/** A piece so much wider than the others, or by itself less than so much longer than wide, may be several leaves that touch or overlap. */
const WIDER = 1.3;
const SQUAT = 2.2;
/** Leaves of one board are as wide as each other, but for this share; of one that lies half under another, less is seen. */
const ALIKE = 1.3;
const MOST = 0.6;
/** No less of a leaf than this is told from another, mm, and no less than this share of its width where that is known. */
const LEAST_WIDTH = 30;
const LEAST_SEEN = 0.3;

/** Leaves that touch, taken apart: a piece wider than the others, or where all may be so, one whose parts are as wide as each other. */
function apart(picture: FacePicture, rings: readonly Polygon<'face'>[]): Polygon<'face'>[] {
  const lie = rings.map(lying);
  const slim = lie.filter(({ half }) => half[0] > SQUAT * half[1]).map(({ half }) => 2 * half[1]);
  const width = slim.length > 0 ? (slim.sort((a, b) => a - b)[Math.floor((slim.length - 1) / 2)] as number) : null;
  return rings.flatMap((ring, i) => {
    const { along, half } = lie[i] as Lying;
    // A stack of leaves may be wider than they are long.
    const ways = half[0] > SQUAT * half[1] ? [along] : [along, along + Math.PI / 2];
    const cuts = ways.map((way) => {
      const at = lyingAlong(ring, way);
      const known = width !== null && 2 * at.half[1] > WIDER * width ? width : null;
      if (known === null && (width !== null || at.half[0] > SQUAT * at.half[1])) return { parts: [ring], clear: 0 };
      const joints = jointsIn(picture, at, Math.max(LEAST_WIDTH, LEAST_SEEN * (known ?? 0)));
      const parts = partedAt(ring, at, joints);
      const even = evenWidths(
        parts.map((part) => 2 * lyingAlong(part, way).half[1]),
        known,
      );
      return even ? { parts, clear: Math.min(...joints.map(({ clear }) => clear)) } : { parts: [ring], clear: 0 };
    });
    return cuts.reduce((best, one) => (one.clear > best.clear ? one : best)).parts;
  });
}

/** Whether the most of several parts are as wide as each other, or as leaves are known to be: one may lie under another, and two may not have come apart. */
function evenWidths(widths: readonly number[], known: number | null): boolean {
  const usual = known ?? ([...widths].sort((a, b) => a - b)[Math.floor((widths.length - 1) / 2)] as number);
  const alike = widths.filter((width) => width < ALIKE * usual && usual < ALIKE * width);
  return widths.length > 1 && alike.length >= (known === null ? MOST * widths.length : 1);
}

/** The smallest box around a ring, along its longer side. */
function lying(ring: Polygon<'face'>): Lying {
  const boxes = ring.map(([x, y], i) => {
    const [p, q] = ring[(i + 1) % ring.length] as Polygon<'face'>[number];
    return lyingAlong(ring, Math.atan2(q - y, p - x));
  });
  const least = boxes.reduce((a, b) => (a.half[0] * a.half[1] <= b.half[0] * b.half[1] ? a : b));
  return least.half[0] >= least.half[1] ? least : lyingAlong(ring, least.along + Math.PI / 2);
}
