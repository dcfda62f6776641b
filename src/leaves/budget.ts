import type { Shop } from '../job';
import { um } from './micrometres';
import type { Resawn } from './ways';
import type { ReadyBoard } from './yield';

/** What a part of a board's thickness went into. */
export const BUDGET_ITEMS = [
  'warp',
  'outer face',
  'back',
  'kerfs',
  'dressing',
  'sanding',
  'drift',
  'over',
  'rest',
  'leaves',
] as const;

export interface BudgetLine {
  readonly item: (typeof BUDGET_ITEMS)[number];
  readonly mm: number;
  /** How many times it is taken; 1 where it is one. */
  readonly count: number;
}

/**
 * The account of a board's thickness, which adds up to the micrometre: what flattening one face took, planing of the faces, kerfs, dressing between
 * cuts, of every leaf its sanding and what it is sawn thicker for the blade's drift, what a last leaf is over, the rest, and the finished leaves.
 */
export function resawBudget(
  { warped, wedge }: ReadyBoard,
  { slices, leaves }: Resawn,
  { leaf }: Pick<Shop['resaw'], 'leaf'>,
): BudgetLine[] {
  const layers = (what: Resawn['slices'][number]['what']) => slices.filter((slice) => slice.what === what);
  const thick = (what: Resawn['slices'][number]['what']): number =>
    layers(what).reduce((sum, { from, to }) => sum + um(to) - um(from), 0);
  const [finished, drift] = [leaves * um(leaf.thickness), leaves * um(wedge.added)];
  const sanding = leaves * (um(leaf.thickness + leaf.sanding) - um(leaf.thickness));
  const lines: readonly (readonly [BudgetLine['item'], micrometres: number, count: number])[] = [
    ['warp', um(warped), 1],
    ['outer face', thick('outer face'), 1],
    ['back', thick('back'), 1],
    ['kerfs', thick('kerf'), layers('kerf').length],
    ['dressing', thick('dressing'), layers('dressing').length],
    ['sanding', sanding, leaves],
    ['drift', drift, leaves],
    ['over', thick('leaf') - finished - sanding - drift, 1],
    ['rest', thick('rest'), layers('rest').length],
    ['leaves', finished, leaves],
  ];
  return lines.flatMap(([item, mm, count]) => (mm === 0 ? [] : [{ item, mm: mm / 1000, count }]));
}

/** What a rest is good for, by its thickness. */
export const REST_USES = ['backer', 'lipping', 'drawer bottom', 'drawer side'] as const;

/** Least thickness of each once both faces are clean, mm (practice, no source). A backer must be what a leaf is. */
const LEAST: Readonly<Record<Exclude<(typeof REST_USES)[number], 'backer'>, number>> = {
  lipping: 3,
  'drawer bottom': 6,
  'drawer side': 10,
};

/** What the rest gives once its sawn face is dressed and its back is planed. */
export interface RestUse {
  readonly clean: number;
  readonly uses: readonly (typeof REST_USES)[number][];
}

/** What a rest is good for, the best last. */
export function restUse(rest: number, { leaf, dressing, faceAllowance, backAllowance }: Shop['resaw']): RestUse {
  const clean = Math.max(0, um(rest) - um(dressing) - um(backAllowance ?? faceAllowance)) / 1000;
  return {
    clean,
    uses: REST_USES.filter((use) => clean >= (use === 'backer' ? leaf.thickness : LEAST[use])),
  };
}
