import { apply, distance, distanceToSegment, type Point, type Polygon, type Segment } from '../geometry';
import { CLOSE, type Fault, findings, type LaidStrip, type LaidTop, said } from './check-laid';

/** Whether the joints of a top can be made: straight, equally long on both sides, meeting along their whole length. */

/** Index of the corner nearest to a point. */
function nearest(ring: Polygon<'face'>, p: Point<'face'>): number {
  const off = ring.map((q) => distance(p, q));
  return off.indexOf(Math.min(...off));
}

const lengthOf = (line: Polygon<'face'>): number =>
  line.slice(1).reduce((sum, q, i) => sum + distance(line[i] as Point<'face'>, q), 0);

/** The strip's own edge between two of its corners: the shorter of the two ways around. */
function edgeBetween(ring: Polygon<'face'>, from: number, to: number): Point<'face'>[] {
  const walk = (i: number, j: number): Point<'face'>[] => {
    const steps = (j - i + ring.length) % ring.length;
    return Array.from({ length: steps + 1 }, (_, k) => ring[(i + k) % ring.length] as Point<'face'>);
  };
  const [there, back] = [walk(from, to), walk(to, from)];
  return lengthOf(there) <= lengthOf(back) ? there : back;
}

/** How far a strip's edge strays from its joint line, mm. */
function strays(ring: Polygon<'face'>, line: Segment<'face'>): number {
  const [from, to] = [nearest(ring, line[0]), nearest(ring, line[1])];
  const ends = Math.max(distance(ring[from] as Point<'face'>, line[0]), distance(ring[to] as Point<'face'>, line[1]));
  return edgeBetween(ring, from, to).reduce((most, p) => Math.max(most, distanceToSegment(p, line)), ends);
}

/** @returns faults of `joint` and `seams` */
export function checkJoints({ job, top, placement, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  if (placement.joints.length !== placement.strips.length - 1) say('seams', 'A top has one joint fewer than strips.');
  if (placement.joints.length > top.seams)
    say('seams', `It has ${placement.joints.length} seams; ${top.seams} are allowed.`);
  if (strips.length !== placement.strips.length) return faults;
  if (strips[0]?.strip.jointFront || strips.at(-1)?.strip.jointBack)
    say('joint', 'It has a joint line at its front or back, where nothing is glued on.');
  strips.slice(1).forEach((behind, i) => {
    const front = strips[i] as LaidStrip;
    const [a, b] = [front.strip.jointBack, behind.strip.jointFront];
    const name = `Joint ${i + 1}`;
    if (!a || !b) {
      say('joint', `${name} has no line on one of its strips.`);
      return;
    }
    const [lengthA, lengthB] = [distance(...a), distance(...b)];
    if (Math.abs(lengthA - lengthB) > CLOSE)
      say('joint', `${name} is ${said(job, lengthA)} long in front and ${said(job, lengthB)} behind.`);
    const apart = Math.max(
      ...([0, 1] as const).map((k) => distance(apply(front.toTop, a[k]), apply(behind.toTop, b[k]))),
    );
    if (apart > CLOSE) say('joint', `The two lines of joint ${i + 1} do not meet: ${said(job, apart)} apart.`);
    for (const [laid, line, which] of [
      [front, a, 'in front of it'],
      [behind, b, 'behind it'],
    ] as const) {
      const by = strays(laid.strip.finished, line);
      if (by > CLOSE)
        say('joint', `${name} is not straight: the strip ${which} strays ${said(job, by)} from its line.`);
    }
  });
  return faults;
}
