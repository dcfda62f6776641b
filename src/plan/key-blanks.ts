import type { Job } from '../job';
import { type BlankPlan, type BlankWanted, nestBlanks } from '../keys';
import { formatLength } from '../units';
import { findSpecies } from '../wood';
import type { KeyBlanks } from './key-report';
import { sparePieces } from './offcut-serves';
import type { SlabReport, TopReport } from './report';

/** A blank is sawn this much over the key on every side, and stands this much over the pocket, to be planed off, mm (ours). */
const OVER = 1.5;
const PROUD = 2;

/** Blanks for all keys of a plan, by their wood: the shop's key wood, or each top's own. */
export function keyBlanks(job: Job, tops: readonly TopReport[], slabs: readonly SlabReport[]): KeyBlanks[] {
  const bySpecies = new Map<string, TopReport[]>();
  for (const top of tops) {
    if (top.keys.length === 0) continue;
    const own = job.flitches[top.placement.strips[0]?.flitch ?? '']?.species ?? '';
    const species = job.shop.keySpecies ?? own;
    bySpecies.set(species, [...(bySpecies.get(species) ?? []), top]);
  }
  const pieces = sparePieces(job, { slabs });
  const { kerf, resaw } = job.shop;
  return [...bySpecies].map(([species, keyed]) => {
    const wanted = wantedOf(job, keyed);
    const stock = pieces
      .filter((piece) => piece.species === species)
      .map(({ name, size: [length, width], thickness }) => ({
        name,
        length,
        width,
        thickness: thickness?.finished ?? null,
      }));
    const plan = nestBlanks(wanted, stock, { crosscut: kerf.fine, rip: kerf.fine, resaw: resaw.kerf });
    return {
      species,
      tops: keyed.map(({ id }) => id),
      wanted,
      plan,
      words: wordsOf(job, species, wanted, plan, stock.length),
    };
  });
}

/** A blank for every key; where pockets of one size differ in depth, so do their blanks. */
function wantedOf({ shop }: Job, tops: readonly TopReport[]): BlankWanted[] {
  const keys = tops.flatMap((top) => top.keys);
  // A key that is routed out of its blank has the bit's way all round it.
  const over = shop.router.collar === undefined ? OVER : shop.router.bit + OVER;
  return shop.keySizes.flatMap((size) => {
    const own = keys.filter((key) => key.size === size.id);
    const depths = [...new Set(own.map(({ depth }) => depth))].sort((a, b) => b - a);
    return depths.map((depth) => ({
      size: depths.length === 1 ? size.id : `${size.id} ${depth}`,
      length: size.length + 2 * over,
      width: size.end + 2 * over,
      thickness: depth + PROUD,
      count: own.filter((key) => key.depth === depth).length,
    }));
  });
}

function wordsOf(
  job: Job,
  species: string,
  wanted: readonly BlankWanted[],
  { uses, short, unread }: BlankPlan,
  pieces: number,
): string[] {
  const say = (mm: number): string => formatLength(mm, job.units, { decimals: 1 });
  const unit = job.units === 'mm' ? ' mm' : '';
  const wood = findSpecies(species)?.name ?? species;
  const count = (n: number): string => `${n} blank${n === 1 ? '' : 's'}`;
  const sizeWords = (id: string): string => {
    const one = wanted.find(({ size }) => size === id);
    return one ? `${id} (${say(one.length)} × ${say(one.width)} × ${say(one.thickness)}${unit})` : id;
  };
  return [
    ...uses.map(({ piece, strips, blanks }) => {
      const sizes = [...new Set(blanks.map(({ size }) => size))];
      const what = sizes.map((id) => `${count(blanks.filter(({ size }) => size === id).length)} ${sizeWords(id)}`);
      const rips = strips.map(({ width, length, layers }) => {
        const split = layers > 1 ? `, split into ${layers} layers` : '';
        return `a strip ${say(width)} wide and ${say(length)} long${split}`;
      });
      return `${what.join(', ')} from ${piece}: rip ${rips.join(', then ')}; crosscut last.`;
    }),
    ...short.map(({ size, count: n }) => `${count(n)} of ${sizeWords(size)} must come from elsewhere.`),
    ...(short.length > 0 && pieces === 0 ? [`The plan leaves no offcut of ${wood} that is worth keeping.`] : []),
    ...(short.length > 0 && unread.length > 0
      ? [`Not counted, since their thickness was not read: ${unread.join(', ')}.`]
      : []),
  ];
}
