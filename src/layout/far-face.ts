import { type Affine, apply, invert, type Point } from '../geometry';
import type { Defect, Slab } from '../job';

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
function ontoFace(slab: Slab, face: 'top' | 'bottom'): Affine<'face', 'face'> | null {
  if (!slab.tie) return null;
  const toTop = fromFarFace(slab.tie);
  return face === 'top' ? toTop : invert(toTop);
}

/** The other face's defects where they lie under this face, under their own ids; none until the faces are tied. */
export function farDefects(slab: Slab, face: 'top' | 'bottom'): Defect[] {
  const map = ontoFace(slab, face);
  if (!map) return [];
  return Object.values(slab.faces[face === 'top' ? 'bottom' : 'top'].defects).map((defect) => mirrored(defect, map));
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
