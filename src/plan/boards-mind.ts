import type { Job } from '../job';
import { formatLength, formatThin } from '../units';
import { movement, SPECIES } from '../wood';
import { counted } from './boards-words';
import type { SawnBoard } from './sawn-board';

/** Leaves over this finished move like solid wood, mm (TRADE 11: common practice, no source). */
const MOVES_FROM = 2.5;
/** A last piece thinner than this is not held safely, mm: 6 to 12 is usual (practice, no source). */
const HELD_FROM = 6;

/** What to mind of a board: what nobody measured, what the way of working asks, what its leaves will do. */
export function mindOf(job: Job, sawn: SawnBoard): string[] {
  return [...ofStock(job, sawn), ...ofWay(job, sawn), ...ofLeaves(job, sawn)];
}

function ofStock({ units, shop }: Job, { board, ready }: SawnBoard): string[] {
  const mm = (x: number) => formatLength(x, units, { unit: true });
  const { strips, flat } = ready;
  const said: string[] = [];
  if (!board.warp) said.push('Nobody read its cup and bow: it is counted as flat. Give them under Stock.');
  if (flat === 0) said.push('Its warp takes all of its thickness: check what was read.');
  if (strips.count > 1)
    said.push(
      `It is ${mm(board.width)} wide and the machine takes ${mm(shop.resaw.height ?? 0)}: rip it into ${strips.count} strips of ${mm(Math.floor(strips.width * 10) / 10)}. A leaf as wide as the board then has ${counted(strips.count - 1, 'joint', 'joints')}, where ${mm(shop.kerf.fine)} of figure is gone.`,
    );
  else if ((shop.resaw.height ?? null) === null)
    said.push(`It stands ${mm(board.width)} high in the machine: see that it goes under the guides.`);
  return said;
}

function ofWay({ shop, units }: Job, { way, ready, sawn }: SawnBoard): string[] {
  const mm = (x: number) => formatLength(x, units, { unit: true });
  const { lastPiece, leaf, drift } = shop.resaw;
  const said: string[] = [];
  if (!way.carrier && lastPiece < HELD_FROM && sawn.leaves > 0)
    said.push(
      `A last piece of ${mm(lastPiece)} is not held safely: leave ${mm(HELD_FROM)} to ${mm(12)}, or stick it to a carrier board.`,
    );
  if (way.carrier)
    said.push(
      'On a carrier: plane the back flat, stick it down with double-sided tape or hot glue all over, add the carrier to the fence figures, and use a push block.',
    );
  if (!way.dressed)
    said.push(
      `Not dressed, both faces of a leaf are as sawn: the ${mm(leaf.sanding)} for sanding must take the marks off both.`,
    );
  if (way.start === 'halved' && sawn.leaves > 0)
    said.push('Halved, wood springs: let the halves rest, and flatten a fresh face that moved before going on.');
  if (way.start === 'both faces' && sawn.leaves > 1)
    said.push(
      'From both faces the board stays balanced; mark which face each leaf came off, so that the sequence can be laid again.',
    );
  if (!drift) said.push("The blade's wandering is not counted: saw a test leaf and measure it at both edges.");
  else if (ready.wedge.added > 0)
    said.push(
      `Over ${mm(ready.strips.width)} of height the blade wanders ${formatThin(ready.wedge.over, units)}; sanding evens out ${formatThin(drift.tolerance, units)}, and every leaf is sawn ${formatThin(ready.wedge.added, units)} thicker for the rest.`,
    );
  return said;
}

function ofLeaves({ shop, units }: Job, { board, ready }: SawnBoard): string[] {
  const { leaf } = shop.resaw;
  if (leaf.thickness <= MOVES_FROM || !SPECIES.some(({ id }) => id === board.species)) return [];
  const read: readonly (number | null)[] = board.ringDegrees ?? [];
  const degrees = read.filter((each) => each !== null);
  const mean = degrees.reduce((sum, each) => sum + each, 0) / (degrees.length || 1);
  const { change } = movement({
    species: board.species,
    width: ready.strips.width,
    from: Math.max(0, shop.siteMoisture - (shop.seasonSwing ?? 0)),
    to: shop.siteMoisture + (shop.seasonSwing ?? 0),
    cut: degrees.length === 0 ? 'through' : mean < 45 ? 'flat' : 'quarter',
  });
  const mm = (x: number) => formatLength(x, units, { unit: true });
  return [
    `Over ${formatThin(MOVES_FROM, units)} finished a leaf moves like solid wood: one ${mm(Math.floor(ready.strips.width))} wide would move ${mm(Math.abs(change))} over the year, and glued to a core it splits or bends it. Saw thinner, or make the panel of solid wood.`,
  ];
}
