import { type BlankFlattening, finishedThickness, flattenBlank, thicknessOfBlank } from '../flattening';
import { type Affine, apply, applyAll, intersection, invert, type Polygon } from '../geometry';
import { findSlab, type Job, type Slab, type Strip } from '../job';
import { flatteningShop, fromFarFace } from '../layout';
import { cutFirst } from './before-flattening';
import type { BlankReport } from './report';
import type { SlabSurfaces } from './slab-surfaces';
import { thicknessHelp } from './thickness-help';

/** A blank's flattening, and what stands beside it. */
export type BlankThickness = Pick<BlankReport, 'flattening' | 'cutFirst' | 'help'>;

/** Less than this too thin is none, mm. */
const NOT_SHORT = 0.05;

/**
 * How one blank is flattened, what cutting it first gains, and what would help where it is too thin. Readings stand in the frame of the slab's
 * top face; a blank that was laid out on the lower face is carried there through the two marks that tie the faces, and what comes out is
 * carried back. Nulls without readings, or without the tie.
 * @param wholes what each slab flattened whole finishes at, found once
 */
export function blankThickness(
  job: Job,
  strip: Strip,
  id: string,
  thickness: number,
  surfaces: SlabSurfaces,
  wholes: Map<Slab, number>,
): BlankThickness {
  const { flitch, slab } = findSlab(job, strip.flitch, strip.slab);
  const faces = surfaces(slab);
  if (!faces || (strip.face === 'bottom' && !slab.tie)) return { flattening: null, cutFirst: null, help: null };
  const shop = flatteningShop(flitch, slab, job.shop);
  const toReadings: Affine<'face', 'face'> =
    strip.face === 'bottom' && slab.tie ? fromFarFace(slab.tie) : { m: [1, 0, 0, 1, 0, 0] };
  const request = {
    id,
    polygon: applyAll(toReadings, strip.rough),
    holes: filledVoids(slab, strip).map((hole) => applyAll(toReadings, hole)),
    finished: thickness,
    spare: strip.spare,
    accept: strip.accept,
  };
  const flat = carriedBack(flattenBlank(faces, request, shop), invert(toReadings));
  const outline = slab.faces[strip.face].outline?.outer ?? strip.rough;
  const whole = (): number => {
    const known = wholes.get(slab);
    if (known !== undefined) return known;
    const found = finishedThickness(thicknessOfBlank(faces, applyAll(toReadings, outline)).thickest, shop);
    wholes.set(slab, found);
    return found;
  };
  return {
    flattening: flat,
    cutFirst: cutFirst(faces, outline, strip, toReadings, shop, whole),
    help:
      flat.short > NOT_SHORT
        ? thicknessHelp(job, strip, flat, thickness, { surfaces: faces, toReadings, shop }, surfaces)
        : null,
  };
}

/** Voids within a blank that are filled anyway: the planes need not meet wood there. */
function filledVoids(slab: Slab, strip: Strip): Polygon<'face'>[] {
  const voids = Object.values(slab.faces[strip.face].defects).flatMap(({ kind, permit, polygon }) =>
    kind === 'void' && permit === 'allow' && polygon ? [{ outer: polygon, holes: [] }] : [],
  );
  if (voids.length === 0) return [];
  return intersection(voids, [{ outer: strip.rough, holes: [] }]).map(({ outer }) => outer);
}

function carriedBack(flat: BlankFlattening, back: Affine<'face', 'face'>): BlankFlattening {
  return {
    ...flat,
    limits: flat.limits.map(({ at, face }) => ({ at: apply(back, at), face })),
    shims: flat.shims.map(({ at, height }) => ({ at: apply(back, at), height })),
  };
}

/** What rules each strip of a top: the strip that finishes thinnest, when it is another one. */
export function ruledBy(
  strips: readonly { readonly id: string; readonly name: string; readonly finished: number | null }[],
  id: string,
): BlankReport['ruledBy'] {
  const own = strips.find((strip) => strip.id === id);
  const known = strips.flatMap(({ id: each, name, finished }) =>
    finished === null ? [] : [{ id: each, name, finished }],
  );
  const least = known.reduce<(typeof known)[number] | null>((a, b) => (a && a.finished <= b.finished ? a : b), null);
  if (!own || own.finished === null || !least || least.id === id || own.finished - least.finished < NOT_SHORT)
    return null;
  return { name: least.name, finished: least.finished, loses: own.finished - least.finished };
}
