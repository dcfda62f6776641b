import { apply, applyAll, bounds, type Point, type Segment } from '../geometry';
import type { Strip } from '../job';
import { CLOSE, type Fault, findings, type LaidStrip, type LaidTop, said } from './check-laid';

/**
 * Whether a top that is to be opened like a book is: one joint, between the two faces that one saw cut parted, halves alike in depth, the slabs
 * lying on each other when it is closed again, both thick enough. That their figures mirror each other to the millimetre is seen on the pictures
 * only, which the checker does not have.
 */

/** A live half may differ from the straight one by what its edge swings, and this, mm. */
const UNEVEN = 2;

/** Slabs of one saw cut differ in outline by their bark, and by where their ends were cut: so far may they lie off each other, closed, mm (practice, no source). */
const OFF_ALONG = 150;
const OFF_ACROSS = 60;

/** The halves of a book, closed: how far the middles of both slabs lie off each other, along the joint and across it, mm. */
function offClosed(front: LaidStrip, back: LaidStrip): { along: number; across: number } | null {
  const [a, b] = [front.strip.jointBack, back.strip.jointFront];
  if (!a || !b) return null;
  /** By its place along the joint and behind it, as the face lies in the top. */
  const middle = ({ face, toTop }: LaidStrip, line: Segment<'face'>): Point<'top'> => {
    const { minX, maxX, minY, maxY } = bounds(applyAll(toTop, face.outline.outer));
    return [(minX + maxX) / 2, (minY + maxY) / 2 - apply(toTop, line[0])[1]];
  };
  const [f, g] = [middle(front, a), middle(back, b)];
  return { along: Math.abs(f[0] - g[0]), across: Math.abs(f[1] + g[1]) };
}

/** Names of halves whose slab is thinner, as it is told, than what the top finishes at. */
function tooThin({ job, top }: LaidTop, halves: readonly Strip[]): string[] {
  return halves.flatMap(({ flitch, slab: id }) => {
    const slab = job.flitches[flitch]?.slabs[id];
    if (!slab || slab.thickness === null || slab.thickness >= top.thickness) return [];
    return [`${slab.name}, ${said(job, slab.thickness)}`];
  });
}

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
  const off = offClosed(front, back);
  if (off && (off.along > OFF_ALONG || off.across > OFF_ACROSS)) {
    const [by, way] = off.along > OFF_ALONG ? [off.along, 'along'] : [off.across, 'across'];
    say(
      'book',
      `Its joint is no mirror line: folded shut on it, the slabs lie ${said(job, by)} off each other ${way} it, and came off one saw cut.`,
    );
  }
  const thin = tooThin(laid, [front.strip, back.strip]);
  if (thin.length > 0)
    say('book', `Both halves finish at ${said(job, top.thickness)}; too thin as sawn: ${thin.join(' and ')}.`);
  const [f, b] = [bounds(front.inTop), bounds(back.inTop)];
  const swing = top.front === 'live' ? placement.depth[1] - placement.depth[0] + UNEVEN : CLOSE;
  const uneven = Math.abs(f.maxY - f.minY - (b.maxY - b.minY));
  if (uneven > swing + CLOSE) say('book', `One half is ${said(job, uneven)} deeper than the other.`);
  return faults;
}
