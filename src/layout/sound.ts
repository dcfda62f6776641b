import { applyToRegions, difference, type Polygon, type Region, rectangle } from '../geometry';
import type { Strip, Top } from '../job';
import type { KeptOff } from './kept-off';
import { isWood, ROUNDING } from './rounding';
import { offeredTo } from './sapwood';
import type { FaceStock } from './stock';
import { type StripSpec, stripInTop, stripMap } from './strips';
import type { Unfit } from './unfit';

/** How far behind a live edge, in margins, the margin begins to count along an end: one that meets it at a slant takes so long to be clear. */
const CLEAR_BEHIND = 3;

/** Where a live strip must keep the margin: its back, and its ends from a little behind the live edge on. */
function keptStraight(body: Polygon<'top'>, back: number, length: number, margin: number): Region<'top'>[] {
  const ends = [0, length].flatMap((x) => {
    const ys = body.filter((p) => Math.abs(p[0] - x) < ROUNDING).map(([, y]) => y);
    const from = Math.min(...ys) + CLEAR_BEHIND * margin + 1;
    const inward = x === 0 ? 1 : length - 1;
    return from < back
      ? [{ outer: rectangle<'top'>(Math.min(x, inward), from, Math.max(x, inward), back), holes: [] }]
      : [];
  });
  return [{ outer: rectangle<'top'>(0, back - 1, length, back), holes: [] }, ...ends];
}

/** What keeps a strip from being sawn: too little depth, too narrow, no wood or too near its edge, what must be kept off. */
export type Refusal = 'depth' | 'strip' | 'wood' | Unfit['why'] | KeptOff['why'];

/** What of that which must be kept off a strip holds, but where the top is covered or cut out; null where nothing. */
export function spoiltBy(stock: FaceStock, strip: Strip, top: Top): KeptOff['why'] | null {
  const map = stripMap(strip);
  const whole = { outer: stripInTop(strip), holes: [] };
  const hidden = [...Object.values(top.covered), ...Object.values(top.cutOuts)];
  const covered = hidden.map(({ polygon }) => ({ outer: polygon, holes: [] }));
  for (const { why, area } of offeredTo(top, stock).keptOff) {
    const spoilt = difference([whole], [...difference([whole], applyToRegions(map, area)), ...covered]);
    if (isWood(spoilt)) return why;
  }
  return null;
}

/**
 * Why a strip is not sound, or null where it is: straight edges and body inside the margin, and clear of what must be kept off but where
 * the top is covered.
 */
export function refusalOf(stock: FaceStock, strip: Strip, spec: StripSpec, top: Top): 'wood' | KeptOff['why'] | null {
  const spoilt = spoiltBy(stock, strip, top);
  if (spoilt) return spoilt;
  const body = stripInTop(strip);
  const map = stripMap(strip);
  const whole = { outer: body, holes: [] };
  if (spec.front === 'live' && isWood(difference([whole], applyToRegions(map, [stock.outline])))) return 'wood';
  // The live edge is the wood's own: only what stands back from it must keep the margin.
  const straight =
    spec.front === 'live'
      ? keptStraight(body, spec.back, top.length, stock.margin)
      : [{ outer: rectangle<'top'>(0, spec.front, top.length, spec.back), holes: [] }];
  return isWood(difference(straight, applyToRegions(map, stock.inside))) ? 'wood' : null;
}
