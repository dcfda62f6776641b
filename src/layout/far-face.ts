import { type Affine, apply, invert, type Point } from '../geometry';
import {
  calledFace,
  type Defect,
  defectLetters,
  type FaceName,
  isProposed,
  NOT_CONFIRMED,
  otherFace,
  type Slab,
} from '../job';

/** The other face of a slab, mirrored onto this one through the two marks that both show. */

/**
 * The map from the lower face, as it is seen turned over, to the top face, from two marks seen on both: a mirror, a turn and a shift.
 * Marks that do not agree in distance are met at their middle.
 */
export function fromFarFace(tie: NonNullable<Slab['tie']>): Affine<'face', 'face'> {
  const [t0, t1] = tie.top;
  const [b0, b1] = tie.bottom;
  const angleTop = Math.atan2(t1[1] - t0[1], t1[0] - t0[0]);
  // Mirrored in y first, then turned.
  const angleBottom = Math.atan2(-(b1[1] - b0[1]), b1[0] - b0[0]);
  const turn = angleTop - angleBottom;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const middleTop: Point<'face'> = [(t0[0] + t1[0]) / 2, (t0[1] + t1[1]) / 2];
  const middleBottom: Point<'face'> = [(b0[0] + b1[0]) / 2, (b0[1] + b1[1]) / 2];
  const turned: Affine<'face', 'face'> = { m: [cos, sin, sin, -cos, 0, 0] };
  const [x, y] = apply(turned, middleBottom);
  return { m: [cos, sin, sin, -cos, middleTop[0] - x, middleTop[1] - y] };
}

/** From the other face to this one; null until two marks tie them. */
export function ontoFace(slab: Slab, face: FaceName): Affine<'face', 'face'> | null {
  if (!slab.tie) return null;
  const toTop = fromFarFace(slab.tie);
  return face === 'top' ? toTop : invert(toTop);
}

/** The other face's defects where they lie under this face, under their own ids; none until the faces are tied. */
export function farDefects(slab: Slab, face: FaceName): Defect[] {
  const map = ontoFace(slab, face);
  if (!map) return [];
  return Object.values(slab.faces[otherFace(face)].defects).map((defect) => mirrored(defect, map));
}

/** Where the other face says that the pith runs, laid under this one; null where it says nothing or the faces are not tied. */
export function farPith(slab: Slab, face: FaceName): Point<'face'>[] | null {
  const map = ontoFace(slab, face);
  return (map && slab.faces[otherFace(face)].pith?.map((p) => apply(map, p))) ?? null;
}

/**
 * Whether a defect counts on the face across from its own: where it goes through, and where it is to be kept off and nobody said that it stops
 * short. A hole seen on one face alone may be open to anywhere on its way to the other, so it costs wood until somebody has looked.
 */
export const reaches = ({ through, permit }: Defect): boolean =>
  through === true || (through === undefined && permit === 'avoid');

/** Defects of the other face that reach this one, where they lie under it; none until the faces are tied. */
export const reachingDefects = (slab: Slab, face: FaceName): Defect[] => farDefects(slab, face).filter(reaches);

/** What the other face's defects are called on this one: a′, b′ ... by their letters there. */
export function farLetters(slab: Slab, face: FaceName): Map<string, string> {
  const letters = defectLetters(Object.values(slab.faces[otherFace(face)].defects));
  return new Map([...letters].map(([id, letter]) => [id, `${letter}′`]));
}

/** A defect that reaches this face from the other, in words: "void a′ of Slab 2's underside, which goes through". */
export function reachingName(slab: Slab, face: FaceName, defect: Defect): string {
  const { id, kind, through } = defect;
  const whose = calledFace(otherFace(face)).replace('the ', `${slab.name}'s `);
  const proposed = isProposed(defect) ? ` (${NOT_CONFIRMED})` : '';
  const how = through ? 'which goes through' : 'of which nobody said that it stops short';
  return `${kind} ${farLetters(slab, face).get(id)} of ${whose}${proposed}, ${how}`;
}

function mirrored(defect: Defect, map: Affine<'face', 'face'>): Defect {
  const { line, polygon, ...rest } = defect;
  return {
    ...rest,
    ...(polygon && { polygon: polygon.map((p) => apply(map, p)) }),
    ...(line && {
      line: line.map(([x, y, width]): [number, number, number] => {
        const [farX, farY] = apply(map, [x, y]);
        return [farX, farY, width];
      }),
    }),
  };
}
