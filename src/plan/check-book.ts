import { bounds } from '../geometry';
import type { Strip } from '../job';
import { CLOSE, type Fault, findings, type LaidTop, said } from './check-laid';

/**
 * Whether a top that is to be opened like a book is: one joint, between the two faces that one saw cut parted, and halves alike in depth. That
 * their figures mirror each other is seen on the pictures only, which the checker does not have.
 */

/** A live half may differ from the straight one by what its edge swings, and this, mm. */
const UNEVEN = 2;

/** Whether the underside of one strip's slab lay on the upper face of the other's. */
function faced({ job }: LaidTop, a: Strip, b: Strip): boolean {
  if (a.flitch !== b.flitch || a.face === b.face) return false;
  const [under, upper] = a.face === 'bottom' ? [a, b] : [b, a];
  const places = [under, upper].map(({ flitch, slab }) => job.flitches[flitch]?.slabs[slab]?.place ?? Number.NaN);
  return places[1] === (places[0] as number) + 1;
}

/** @returns faults of `book` */
export function checkBook(laid: LaidTop): Fault[] {
  const { job, top, placement, strips, where } = laid;
  const { faults, say } = findings(where);
  if (!top.bookMatched) return faults;
  const [front, back] = strips;
  if (placement.strips.length !== 2 || !front || !back) {
    say('book', `To be opened like a book it is cut in two halves; it has ${placement.strips.length} strips.`);
    return faults;
  }
  if (!faced(laid, front.strip, back.strip))
    say(
      'book',
      'Its halves are not the underside of a slab and the upper face of the next: their figures cannot mirror each other.',
    );
  const [f, b] = [bounds(front.inTop), bounds(back.inTop)];
  const swing = top.front === 'live' ? placement.depth[1] - placement.depth[0] + UNEVEN : CLOSE;
  const uneven = Math.abs(f.maxY - f.minY - (b.maxY - b.minY));
  if (uneven > swing + CLOSE) say('book', `One half is ${said(job, uneven)} deeper than the other.`);
  return faults;
}
