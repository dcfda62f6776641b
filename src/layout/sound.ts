import { applyToRegions, difference, rectangle, regionsArea } from '../geometry';
import type { Strip, Top } from '../job';
import type { KeptOff } from './kept-off';
import { offeredTo } from './sapwood';
import type { FaceStock } from './stock';
import { type StripSpec, stripInTop, stripMap } from './strips';
import type { Unfit } from './unfit';

/** Wood smaller than this (mm2) is the rounding of the clipping library, not a fault. */
const SLIVER = 2;

/** What keeps a strip from being sawn: too little depth, too narrow, no wood or too near its edge, what must be kept off. */
export type Refusal = 'depth' | 'strip' | 'wood' | Unfit['why'] | KeptOff['why'];

/**
 * Why a strip is not sound, or null where it is: straight edges and body inside the margin, and clear of what must be kept off but where
 * the top is covered.
 */
export function refusalOf(stock: FaceStock, strip: Strip, spec: StripSpec, top: Top): 'wood' | KeptOff['why'] | null {
  const body = stripInTop(strip);
  const map = stripMap(strip);
  const covered = Object.values(top.covered).map(({ polygon }) => ({ outer: polygon, holes: [] }));
  const whole = { outer: body, holes: [] };
  for (const { why, area } of offeredTo(top, stock).keptOff) {
    const spoilt = difference([whole], [...difference([whole], applyToRegions(map, area)), ...covered]);
    if (regionsArea(spoilt) > SLIVER) return why;
  }
  // The live edge is the wood's own: only what stands back from it must keep the margin.
  const from = spec.front === 'live' ? spec.back - 1 : spec.front;
  const straight = { outer: rectangle<'top'>(0, from, top.length, spec.back), holes: [] };
  return regionsArea(difference([straight], applyToRegions(map, stock.inside))) > SLIVER ? 'wood' : null;
}
