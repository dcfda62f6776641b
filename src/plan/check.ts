import {
  type Affine,
  apply,
  applyAll,
  applyToRegions,
  difference,
  distance,
  distanceToRing,
  intersection,
  offset,
  type Point,
  type Polygon,
  type Region,
  regionsArea,
  ribbon,
  type Segment,
  union,
} from '../geometry';
import {
  calledFace,
  type Defect,
  type Face,
  HAND_SIGMA,
  type Job,
  otherFace,
  type Placement,
  type Plan,
  type Strip,
  type Top,
  wantedTop,
} from '../job';
import type { Verdict } from './report';

/**
 * The independent checker (DESIGN 5.2): exact polygons, and not one line shared with the search. It asks of a plan only what a maker would ask of
 * the marked slab before the saw starts.
 */

/** Rounding of the clipping library: an area this small (mm2) is no fault. */
const SLIVER = 4;
/** Lengths are held to this, mm. */
const CLOSE = 0.05;

type Fault = Verdict['faults'][number];

const solid = <F extends 'face' | 'top'>(ring: Polygon<F>): Region<F> => ({ outer: ring, holes: [] });
const mapOf = (strip: Strip): Affine<'face', 'top'> => ({ m: strip.toTop });
const lengthOf = ([a, b]: Segment<'face'>): number => distance(a, b);

function faceOf(job: Job, strip: Strip): Face | undefined {
  return job.flitches[strip.flitch]?.slabs[strip.slab]?.faces[strip.face];
}

/** What of a defect says which wood it forbids. */
type Bounded = Pick<Defect, 'permit' | 'polygon' | 'line'>;

function forbidden(defects: readonly Bounded[], margin: number): Region<'face'>[] {
  return defects
    .filter(({ permit }) => permit === 'avoid')
    .flatMap((defect) => {
      if (defect.polygon) return offset([solid(defect.polygon)], margin);
      return defect.line ? [solid(ribbon<'face'>(defect.line, margin))] : [];
    });
}

/**
 * Defects of the other face that may lie in a strip, carried under it by the two marks: across the line between them they lie mirrored, along it as
 * they are, as the faces of one board do.
 */
function fromBelow(job: Job, strip: Strip): Defect[] {
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

const direction = (from: Point<'face'>, to: Point<'face'>): readonly [number, number] => {
  const length = distance(from, to);
  return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
};

/** Samples of a segment, its ends among them. */
function along([a, b]: Segment<'face'>, step = 20): Point<'face'>[] {
  const n = Math.max(1, Math.ceil(distance(a, b) / step));
  return Array.from(
    { length: n + 1 },
    (_, i): Point<'face'> => [a[0] + ((b[0] - a[0]) * i) / n, a[1] + ((b[1] - a[1]) * i) / n],
  );
}

function checkStrip(job: Job, top: Top, strip: Strip, where: string): Fault[] {
  const faults: Fault[] = [];
  const say = (message: string): void => {
    faults.push({ where, message });
  };
  const face = faceOf(job, strip);
  if (!face?.outline) {
    say('Its slab has no outline any more.');
    return faults;
  }
  const [a, b, c, d] = strip.toTop;
  if (Math.abs(a * a + b * b - 1) > 1e-6 || Math.abs(a - d) > 1e-6 || Math.abs(b + c) > 1e-6) {
    say('The strip is stretched or mirrored on its way into the top.');
  }
  const wood = [face.outline];
  if (regionsArea(difference([solid(strip.finished)], wood)) > SLIVER)
    say('The finished strip reaches outside the wood.');
  if (regionsArea(difference([solid(strip.rough)], wood)) > SLIVER) say('The rough blank reaches outside the wood.');
  if (regionsArea(difference([solid(strip.finished)], [solid(strip.rough)])) > SLIVER)
    say('The blank is smaller than the finished strip.');
  const margin = 2 * (face.outlineSigma ?? HAND_SIGMA);
  const rings = [face.outline.outer, ...face.outline.holes];
  for (const edge of [strip.jointFront, strip.jointBack]) {
    if (!edge) continue;
    // A seam must reach both ends of the top in sound wood.
    const near = Math.min(...along(edge).map((p) => Math.min(...rings.map((ring) => distanceToRing(p, ring)))));
    if (near < margin - CLOSE)
      say(
        `The joint line comes within ${near.toFixed(1)} mm of the wood's edge, whose own doubt is ${margin.toFixed(1)} mm.`,
      );
    if (Math.abs(lengthOf(edge) - top.length) > CLOSE) say('The joint line is not as long as the top.');
  }
  const map = mapOf(strip);
  const covered = Object.values(top.covered).map(({ polygon }) => solid(polygon));
  const holds = (defect: Bounded): boolean => {
    const laid = applyToRegions(map, forbidden([defect], margin));
    return regionsArea(difference(intersection([solid(applyAll(map, strip.finished))], laid), covered)) > SLIVER;
  };
  for (const defect of Object.values(face.defects))
    if (holds(defect)) say(`It holds the ${defect.kind} "${defect.id}", which is to be kept off.`);
  if (top.sapwood === 'not' && face.sapwood.some((polygon) => holds({ polygon, permit: 'avoid' })))
    say('It holds sapwood, which is not wanted.');
  for (const defect of fromBelow(job, strip))
    if (holds(defect))
      say(
        `It holds the ${defect.kind} "${defect.id}" of ${calledFace(otherFace(strip.face))}, which is to be kept off and may go through.`,
      );
  return faults;
}

/** Depth of the finished top at every corner of its strips and every 10 mm, as the exact lengths of upright lines through it. */
function depthsAlong(strips: readonly Polygon<'top'>[], length: number): number[] {
  const xs = new Set<number>();
  for (let x = 0.01; x < length; x += 10) xs.add(x);
  for (const ring of strips) for (const [x] of ring) if (x > 0.01 && x < length - 0.01) xs.add(x);
  return [...xs].map((x) => {
    let depth = 0;
    for (const ring of strips) {
      const ys: number[] = [];
      ring.forEach((p, i) => {
        const q = ring[(i + 1) % ring.length] as Point<'top'>;
        if (p[0] <= x !== q[0] <= x) ys.push(p[1] + ((x - p[0]) * (q[1] - p[1])) / (q[0] - p[0]));
      });
      if (ys.length > 0) depth += Math.max(...ys) - Math.min(...ys);
    }
    return depth;
  });
}

function checkTop(top: Top, placement: Placement, where: string): Fault[] {
  const faults: Fault[] = [];
  const say = (message: string): void => {
    faults.push({ where, message });
  };
  if (placement.joints.length !== placement.strips.length - 1) say('A top has one joint fewer than strips.');
  if (placement.joints.length > top.seams) say(`It has ${placement.joints.length} seams; ${top.seams} are allowed.`);
  const laid = placement.strips.map((strip) => applyAll(mapOf(strip), strip.finished));
  placement.strips.slice(1).forEach((behind, i) => {
    const front = placement.strips[i] as Strip;
    if (!front.jointBack || !behind.jointFront) {
      say(`Joint ${i + 1} has no line on one of its strips.`);
      return;
    }
    const ends = ([0, 1] as const).map((k) =>
      distance(
        apply(mapOf(front), (front.jointBack as Segment<'face'>)[k]),
        apply(mapOf(behind), (behind.jointFront as Segment<'face'>)[k]),
      ),
    );
    if (Math.max(...ends) > CLOSE)
      say(`The two lines of joint ${i + 1} do not meet: ${Math.max(...ends).toFixed(2)} mm apart.`);
  });
  const together = regionsArea(union(laid.map(solid)));
  const apart = laid.reduce((sum, ring) => sum + regionsArea([solid(ring)]), 0);
  if (Math.abs(together - apart) > SLIVER + top.length * 0.01) say('Its strips overlap.');
  const xs = laid.flat().map(([x]) => x);
  if (Math.abs(Math.min(...xs)) > CLOSE || Math.abs(Math.max(...xs) - top.length) > CLOSE)
    say('It is not as long as wanted.');
  const depths = depthsAlong(laid, top.length);
  const [least, most] = [Math.min(...depths), Math.max(...depths)];
  if (least < top.depth[0] - CLOSE)
    say(`It is ${least.toFixed(1)} mm deep at its narrowest; ${top.depth[0]} is the least.`);
  if (most > top.depth[1] + CLOSE) say(`It is ${most.toFixed(1)} mm deep at its widest; ${top.depth[1]} is the most.`);
  return faults;
}

function checkBetween(job: Job, plan: Plan): Fault[] {
  const kerf = Math.max(job.shop.kerf.crosscut, job.shop.kerf.rip);
  const strips = Object.values(plan.placements).flatMap(({ top, strips: own }) =>
    own.map((strip, i) => ({ strip, name: `${top}, strip ${i + 1}` })),
  );
  const faults: Fault[] = [];
  strips.forEach((a, i) => {
    for (const b of strips.slice(i + 1)) {
      if (a.strip.flitch !== b.strip.flitch || a.strip.slab !== b.strip.slab) continue;
      const where = `/flitches/${a.strip.flitch}/slabs/${a.strip.slab}`;
      if (a.strip.face !== b.strip.face)
        faults.push({ where, message: `${a.name} and ${b.name} are laid on the two faces of one slab.` });
      else if (regionsArea(intersection([solid(a.strip.finished)], [solid(b.strip.finished)])) > SLIVER)
        faults.push({ where, message: `${a.name} and ${b.name} overlap.` });
      else if (
        regionsArea(intersection(offset([solid(a.strip.rough)], kerf - CLOSE, 'mitre'), [solid(b.strip.rough)])) >
        SLIVER
      )
        faults.push({ where, message: `There is no room for the saw between ${a.name} and ${b.name}.` });
    }
  });
  return faults;
}

/** Whether a plan can be sawn as drawn, and what is wrong where it cannot. Thickness that falls short is a miss and is said there. */
export function checkPlan(job: Job, plan: Plan): Verdict {
  const faults: Fault[] = [];
  for (const [id, placement] of Object.entries(plan.placements)) {
    const top = wantedTop(job, placement.top);
    const where = `/plans/${plan.id}/placements/${id}`;
    if (!top) {
      faults.push({ where, message: 'The top that it was planned for is gone.' });
      continue;
    }
    placement.strips.forEach((strip, i) => {
      faults.push(...checkStrip(job, top, strip, `${where}/strips/${i}`));
    });
    faults.push(...checkTop(top, placement, where));
    const missed = plan.misses.some((miss) => miss.top === top.id && miss.limit === 'thickness');
    if (placement.thickness !== null && placement.thickness < top.thickness - CLOSE && !missed) {
      faults.push({
        where,
        message: `It finishes at ${placement.thickness.toFixed(1)} mm; ${top.thickness} are wanted.`,
      });
    }
  }
  faults.push(...checkBetween(job, plan));
  return { passed: faults.length === 0, faults };
}
