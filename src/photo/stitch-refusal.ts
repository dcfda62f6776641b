import { InputProblem, listed } from '../units';
import type { Pair } from './stitch-pair';
import type { TieWay } from './stitch-tie';
import type { MeasuredShot } from './stitch-types';

/** Why photos cannot be joined. */

/** Photos must share so much bare wood along the way that they follow each other, mm: less tells nothing of how they lie. */
const LEAST_OVERLAP = 60;
/** Wood this unlike is other wood, if it shows figure at all (log of light). */
const UNLIKE = { likeness: 0.25, figure: 0.012 };
/** Wood this much alike is the same, whatever the marks say. */
const ALIKE = 0.4;

/** Refuses two photos that show different wood, or too little of the same. */
export function check(
  pair: Pair,
  { moved }: TieWay,
  shots: readonly MeasuredShot[],
  of: readonly [number, number],
): void {
  const { likeness, figure } = pair.shift;
  if (pair.length < LEAST_OVERLAP) throw tooLittle(shots, of, pair.length);
  const [a, b] = of.map((i) => shots[i] as MeasuredShot) as [MeasuredShot, MeasuredShot];
  const common = a.sightings.filter(
    ({ name, below }) => below === 0 && !moved.includes(name) && b.sightings.some((other) => other.name === name),
  );
  const sure = common.length > 1 && moved.length === 0;
  if (sure ? likeness >= UNLIKE.likeness || figure < UNLIKE.figure : likeness >= ALIKE) return;
  const names = `"${a.shot.name}" and "${b.shot.name}"`;
  throw new InputProblem(
    moved.length > 0
      ? `${names} do not show the same face: ${listed(moved)} ${moved.length === 1 ? 'lies' : 'lie'} elsewhere in one of them, and the wood does not match.`
      : `${names} show different wood where they should show the same.`,
    '',
    'Add the second photo to the slab that it shows; if it is the same slab, take both photos again without moving a card between them.',
  );
}

export function tooLittle(shots: readonly MeasuredShot[], [a, b]: readonly [number, number], mm: number): InputProblem {
  const name = (i: number) => `"${shots[i]?.shot.name}"`;
  return new InputProblem(
    `${name(a)} and ${name(b)} show too little wood in common (${Math.round(mm)} mm of its length) to be joined.`,
    '',
    'Take the second photo so that about a third of it shows what the first shows, too.',
  );
}

export function untied(shots: readonly MeasuredShot[]): InputProblem {
  const alone = shots.find(
    ({ sightings }, i) =>
      !sightings.some(({ name }) => shots.some((other, j) => j !== i && other.sightings.some((s) => s.name === name))),
  );
  const rods = shots.find(({ shot: { scale } }) => scale.kind === 'rods' || scale.kind === 'slab');
  const mend =
    'Lay two or three cards where the photos overlap and leave them there for both, or click the same points with the same places in both photos.';
  if (rods)
    return new InputProblem(
      `"${rods.shot.name}" is measured by ${rods.shot.scale.kind === 'rods' ? 'rods' : "the slab's own length and widths"}, which do not tell how it lies beside another photo.`,
      '',
      mend,
    );
  if (alone)
    return new InputProblem(`"${alone.shot.name}" shows no mark that another photo of this face shows, too.`, '', mend);
  const names = [...new Set(shots.flatMap(({ sightings }) => sightings.map(({ name }) => name)))].filter(
    (name) => shots.filter(({ sightings }) => sightings.some((s) => s.name === name)).length > 1,
  );
  return new InputProblem(
    `The marks that the photos share do not agree: ${listed(names)} lie differently in each. They were moved between the shots, or the photos show different slabs.`,
    '',
    'Add a photo of another slab to that slab; else take the photos again without touching the cards between them.',
  );
}
