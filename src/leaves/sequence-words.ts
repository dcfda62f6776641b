import type { Lie } from './drift-types';
import type { PhotographedLeaf, SequenceLink } from './sequence-types';

/** Something about the leaves' sequence that does not agree with their numbers. */
export interface SequenceFinding {
  readonly kind: 'out of order' | 'missing' | 'end for end' | 'other face' | 'other wood' | 'backwards' | 'no figure';
  /** Leaves that it is about, by their places among those given; for one that is missing, those on either side. */
  readonly leaves: readonly number[];
  /** How sure it is, 0..1: how much better the pictures agree with it than with the numbers. */
  readonly sure: number;
  /** A sentence for the maker. */
  readonly says: string;
}

/** What is told in words. */
interface Told {
  readonly order: readonly number[];
  readonly lies: readonly Lie[];
  readonly links: readonly SequenceLink[];
  /** Likeness that is usual between neighbours. */
  readonly strong: number;
  /** Places in the order of leaves that were numbered elsewhere. */
  readonly moved: readonly number[];
  /** Whether the first leaf lies deepest; null where it cannot be told. */
  readonly backwards: boolean | null;
}

const SURE = 0.7;
const LIKELY = 0.4;
const howSure = (sure: number): string =>
  sure >= SURE ? '' : sure >= LIKELY ? ' This is likely, not sure.' : ' This is a guess: look at the leaves.';
const part = (value: number): number => Math.max(0, Math.min(1, value));

/** Every disagreement, the surest first. */
export function findingsOf(leaves: readonly PhotographedLeaf[], told: Told): SequenceFinding[] {
  const { order, links, strong } = told;
  const name = (leaf: number): string => (leaves[leaf] as PhotographedLeaf).name;
  const linkOf = (at: number): number => {
    const near = [links[at - 1], links[at]].flatMap((link) => (link ? [link.kinship] : []));
    return part(Math.max(0, ...near) / Math.max(1e-6, strong));
  };
  const alien = order.filter((_, at) => linkOf(at) < ALIEN);
  const found: SequenceFinding[] = alien.map((leaf) => {
    const sure = part(1 - linkOf(order.indexOf(leaf)) / ALIEN);
    return {
      kind: 'other wood',
      leaves: [leaf],
      sure,
      says: `Leaf ${name(leaf)} does not go on from any other: it is of another board, of another part of this one, or its picture shows too little figure.${howSure(sure)}`,
    };
  });
  for (const at of told.moved) {
    const leaf = order[at] as number;
    if (alien.includes(leaf)) continue;
    const [before, after] = [order[at - 1], order[at + 1]];
    const place =
      before === undefined
        ? `before leaf ${name(after as number)}`
        : after === undefined
          ? `after leaf ${name(before)}`
          : `between leaf ${name(before)} and leaf ${name(after)}`;
    const sure = linkOf(at);
    found.push({
      kind: 'out of order',
      leaves: [leaf],
      sure,
      says: `Leaf ${name(leaf)} belongs ${place}: its figure goes on there.${howSure(sure)}`,
    });
  }
  links.forEach(({ cuts, kinship }, i) => {
    const [a, b] = [order[i] as number, order[i + 1] as number];
    if (cuts < 2 || alien.includes(a) || alien.includes(b)) return;
    const sure = part(kinship / (0.6 * strong));
    const many = cuts === 2 ? 'one leaf is missing there' : `${cuts - 1} leaves are missing there`;
    found.push({
      kind: 'missing',
      leaves: [a, b],
      sure,
      says: `From leaf ${name(a)} to leaf ${name(b)} the figure moves as far as over ${cuts} cuts: ${many}.${howSure(sure)}`,
    });
  });
  told.lies.forEach((lie, leaf) => {
    if (lie === 'same' || alien.includes(leaf)) return;
    const sure = linkOf(order.indexOf(leaf));
    const both = (leaves[leaf] as PhotographedLeaf).bottom !== null;
    const says =
      lie === 'end for end'
        ? `Leaf ${name(leaf)} was photographed end for end: turn its picture by half.`
        : `${both ? `Front and back of leaf ${name(leaf)} are exchanged` : `Leaf ${name(leaf)} shows its other face`}: its figure is the mirror image of the others'.`;
    found.push({
      kind: lie === 'end for end' ? 'end for end' : 'other face',
      leaves: [leaf],
      sure,
      says: `${says}${howSure(sure)}`,
    });
  });
  if (told.backwards)
    found.push({
      kind: 'backwards',
      leaves: [...order],
      sure: 1,
      says: 'The leaves are numbered from the last cut to the first: the far face of each meets the one numbered before it.',
    });
  return found.sort((a, b) => b.sure - a.sure);
}

/** Wood whose lines do not show tells nothing of its order. */
export const noFigure = (leaves: readonly PhotographedLeaf[]): SequenceFinding => ({
  kind: 'no figure',
  leaves: [...leaves.keys()],
  sure: 0,
  says: 'The pictures show too little figure to tell whether the leaves are in order, or no two of them are neighbours: trust the numbers on the leaves.',
});

/** A leaf whose best neighbour is less alike than this share of what is usual belongs nowhere. */
const ALIEN = 0.45;
