import { type Job, type Plan, wantedTop } from '../job';
import { checkBetween } from './check-between';
import { checkBlank } from './check-blank';
import { checkBook } from './check-book';
import { checkDefects } from './check-defects';
import { checkJoints } from './check-joints';
import { CLOSE, type Fault, findings, type LaidStrip, type LaidTop, layTop, said } from './check-laid';
import { checkReglue } from './check-reglue';
import { checkRuns } from './check-runs';
import { checkSize } from './check-size';
import { checkWants } from './check-wants';
import { checkWood } from './check-wood';
import type { Verdict } from './report';

/**
 * The independent checker (DESIGN 5.2): exact polygons, and not one line shared with the search. It asks of a plan only what a maker would ask of
 * the marked slab before the saw starts. One rule a file; a rule looks at a strip, at a whole top, or at the plan.
 */

const STRIP_RULES: readonly ((laid: LaidStrip) => Fault[])[] = [checkWood, checkBlank, checkDefects];
const TOP_RULES: readonly ((laid: LaidTop) => Fault[])[] = [checkJoints, checkSize, checkWants, checkBook, checkReglue];
const PLAN_RULES: readonly ((job: Job, plan: Plan) => Fault[])[] = [checkBetween, checkRuns];

/** A strip is turned and moved into its top, never stretched or mirrored: how far its map may be from that. */
const RIGID = 1e-6;

const isRigid = ([a, b, c, d]: LaidStrip['strip']['toTop']): boolean =>
  Math.abs(a * a + b * b - 1) < RIGID && Math.abs(a - d) < RIGID && Math.abs(b + c) < RIGID;

function checkTop(laid: LaidTop, plan: Plan): Fault[] {
  const { job, top, placement, strips, where } = laid;
  const { faults, say } = findings(where);
  if (strips.length < placement.strips.length) say('gone', 'Its slab has no outline any more.');
  const bent = strips.filter(({ strip }) => !isRigid(strip.toTop));
  if (bent.length > 0) {
    say('map', 'A strip is stretched or mirrored on its way into the top.');
    return faults;
  }
  faults.push(...strips.flatMap((strip) => STRIP_RULES.flatMap((rule) => rule(strip))));
  faults.push(...TOP_RULES.flatMap((rule) => rule(laid)));
  // Thickness that falls short is a miss, and is said there.
  const missed = plan.misses.some((miss) => miss.top === top.id && miss.limit === 'thickness');
  const { thickness } = placement;
  if (thickness !== null && thickness < top.thickness - CLOSE && !missed)
    say('thickness', `It finishes at ${said(job, thickness)}; ${said(job, top.thickness)} are wanted.`);
  return faults;
}

/** Whether a plan can be sawn as drawn, and what is wrong where it cannot. Quick enough to ask at every move of the hand. */
export function checkPlan(job: Job, plan: Plan): Verdict {
  const faults = Object.entries(plan.placements).flatMap(([id, placement]): Fault[] => {
    const where = `/plans/${plan.id}/placements/${id}`;
    const top = wantedTop(job, placement.top);
    if (!top) return [{ where, rule: 'gone', message: 'The top that it was planned for is gone.' }];
    return checkTop(layTop(job, top, placement, where), plan);
  });
  faults.push(...PLAN_RULES.flatMap((rule) => rule(job, plan)));
  return { passed: faults.length === 0, faults };
}
