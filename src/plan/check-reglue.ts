import { distance, intersection, type Point, ribbon, type Segment } from '../geometry';
import { beyondRounding, CLOSE, type Fault, findings, type LaidTop, said, solid } from './check-laid';

/**
 * Whether a joint from which a crack or the pith is said to be ripped out is free of it, and leaves the saw its room: both strips of one face,
 * their edges parallel.
 */

/** @returns faults of `reglue` */
export function checkReglue({ job, placement, strips, where }: LaidTop): Fault[] {
  const { faults, say } = findings(where);
  placement.joints.forEach(({ made, ripped }, i) => {
    const [front, back] = [strips[i], strips[i + 1]];
    if (made !== 'reglued' || !front || !back) return;
    const [a, b] = [front.strip, back.strip];
    if (a.flitch !== b.flitch || a.slab !== b.slab || a.face !== b.face || !a.jointBack || !b.jointFront) {
      say('reglue', `Joint ${i + 1} is said to close a rip, but its strips are not of one face.`);
      return;
    }
    const line = ripped === 'pith' ? front.face.pith : front.face.defects[ripped ?? '']?.line;
    if (!line) {
      say('reglue', `What was to be ripped out at joint ${i + 1} is not on the face any more.`);
      return;
    }
    const wide = line.map(([x, y, width]): [number, number, number] => [x, y, width ?? 0]);
    const held = [front, back].flatMap(({ strip }) =>
      intersection([solid(strip.finished)], [solid(ribbon<'face'>(wide, CLOSE))]),
    );
    if (beyondRounding(held).length > 0)
      say('reglue', `What was to be ripped out at joint ${i + 1} is still in the top.`);
    const [p, q] = a.jointBack as Segment<'face'>;
    const length = distance(p, q);
    // From the whole line: one edge may be slid along the other.
    const off = (b.jointFront as readonly Point<'face'>[]).map(
      (r) => Math.abs((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])) / length,
    );
    if (Math.abs((off[0] as number) - (off[1] as number)) > CLOSE)
      say('reglue', `The two edges of joint ${i + 1} are not parallel.`);
    const { rip } = job.shop.kerf;
    const room = Math.min(...off);
    if (room < rip - CLOSE)
      say('reglue', `The rip at joint ${i + 1} leaves the saw ${said(job, room)}; it is ${said(job, rip)} wide.`);
  });
  return faults;
}
