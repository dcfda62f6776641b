import type { BlankReport, BoardReport, PlanReport, SlabReport, TopReport } from '../plan';

/** Names of files: plain, so that every system, machine and mail takes them. */

/** A name as small letters, digits and hyphens: accents dropped, all else a hyphen; empty where nothing is left. */
const plain = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 40)
    .replace(/-$/, '');

/** The stem of one of several: its name made plain, numbered where others have the same, its id where nothing is left of it. */
function stemAmong<T extends { readonly name: string }>(all: readonly T[], one: T, idOf: (item: T) => string): string {
  const stemOf = (item: T): string => plain(item.name) || idOf(item);
  const same = all.filter((item) => stemOf(item) === stemOf(one));
  // No plain name holds an underscore, so a numbered one is never another's.
  return same.length > 1 ? `${stemOf(one)}_${same.indexOf(one) + 1}` : stemOf(one);
}

/** Stems of the files about a slab, a top, a board of the plan. */
export const slabStem = ({ slabs }: PlanReport, one: SlabReport): string => stemAmong(slabs, one, ({ slab }) => slab);
export const topStem = ({ tops }: PlanReport, one: TopReport): string => stemAmong(tops, one, ({ id }) => id);
export const boardStem = ({ boards }: PlanReport, one: BoardReport): string => stemAmong(boards, one, ({ id }) => id);

/** The same of a blank: its top and the number of its strip, from the front. */
export function blankStem(report: PlanReport, { top, strip, id }: BlankReport): string {
  const own = report.tops.find((one) => one.id === top);
  return own ? `${topStem(report, own)}-${strip + 1}` : id;
}

/** The file that shows a finished top. */
export const previewName = (report: PlanReport, top: TopReport): string => `top-${topStem(report, top)}.png`;
