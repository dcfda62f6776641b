import {
  applyToRegions,
  bounds,
  difference,
  distance,
  intersection,
  offset,
  type Point,
  type Region,
  ribbon,
  type Segment,
} from '../geometry';
import { calledFace, type Defect, otherFace } from '../job';
import { beyondRounding, type Fault, findings, type LaidStrip, solid } from './check-laid';

/** Whether a strip is clear of what the maker wants to keep off, margin included, but where the top is covered or cut out. */

/** What of a defect says which wood it forbids. */
type Bounded = Pick<Defect, 'polygon' | 'line'>;

function forbidden({ polygon, line }: Bounded, margin: number): Region<'face'>[] {
  if (polygon) return offset([solid(polygon)], margin);
  return line ? [solid(ribbon<'face'>(line, margin))] : [];
}

const direction = (from: Point<'face'>, to: Point<'face'>): readonly [number, number] => {
  const length = distance(from, to);
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
};

/**
 * Defects of the other face that may lie in a strip, carried under it by the two marks: across the line between them they lie mirrored, along it as
 * they are, as the faces of one board do.
 */
function fromBelow({ job, strip }: LaidStrip): Defect[] {
  const slab = job.flitches[strip.flitch]?.slabs[strip.slab];
  if (!slab?.tie) return [];
  const other = otherFace(strip.face);
  const [a, b] = slab.tie[strip.face] as Segment<'face'>;
  const [c, d] = slab.tie[other] as unknown as Segment<'face'>;
  if (distance(a, b) === 0 || distance(c, d) === 0) return [];
  const [[ux, uy], [vx, vy]] = [direction(a, b), direction(c, d)];
  // Marks that do not agree in distance are met at their middle.
  const over = (distance(a, b) - distance(c, d)) / 2;
  const carried = ([x, y]: readonly [number, number, ...number[]]): Point<'face'> => {
    const along = (x - c[0]) * vx + (y - c[1]) * vy + over;
    const across = (y - c[1]) * vx - (x - c[0]) * vy;
    return [a[0] + along * ux + across * uy, a[1] + along * uy - across * ux];
  };
  return Object.values(slab.faces[other].defects)
    .filter(({ through }) => through !== false)
    .map(({ line, polygon, ...rest }) => ({
      ...rest,
      ...(polygon && { polygon: polygon.map(carried) }),
      ...(line && { line: line.map((p): [number, number, number] => [...(carried(p) as [number, number]), p[2]]) }),
    }));
}

/** @returns faults of `defect` and `sapwood` */
export function checkDefects(laid: LaidStrip): Fault[] {
  const { top, strip, face, margin, toTop, inTop, where } = laid;
  const { faults, say } = findings(where);
  const own = bounds(strip.finished);
  const covered = [...Object.values(top.covered), ...Object.values(top.cutOuts)].map(({ polygon }) => solid(polygon));
  const holds = (defect: Bounded): boolean => {
    const area = forbidden(defect, margin);
    const near = area.filter(({ outer }) => {
      const box = bounds(outer);
      return box.maxX > own.minX && box.minX < own.maxX && box.maxY > own.minY && box.minY < own.maxY;
    });
    if (near.length === 0) return false;
    const held = intersection([solid(inTop)], applyToRegions(toTop, near));
    return beyondRounding(difference(held, covered)).length > 0;
  };
  for (const defect of Object.values(face.defects))
    if (defect.permit === 'avoid' && holds(defect))
      say('defect', `It holds the ${defect.kind} "${defect.id}", which is to be kept off.`);
  for (const defect of fromBelow(laid))
    if (defect.permit === 'avoid' && holds(defect))
      say(
        'defect',
        `It holds the ${defect.kind} "${defect.id}" of ${calledFace(otherFace(strip.face))}, which is to be kept off and may go through.`,
      );
  if (top.sapwood === 'not' && face.sapwood.some((polygon) => holds({ polygon })))
    say('sapwood', 'It holds sapwood, which is not wanted.');
  return faults;
}
