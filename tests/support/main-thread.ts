import type { Page } from 'playwright';

/** What a page's main thread does, in its own processor time: on a shared machine the clock alone says nothing. */

/** An event of a trace, µs. */
interface Traced {
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  readonly ts: number;
  readonly dur?: number;
  /** Processor time of the thread. */
  readonly tdur?: number;
  readonly args?: { readonly data?: { readonly type?: string } };
}

/** What answers a person, as Event Timing counts it; moves and scrolls do not. */
const INTERACTIONS = ['pointerdown', 'pointerup', 'click', 'keydown', 'keyup', 'input', 'change'];
const SCRIPT = ['EventDispatch', 'FireAnimationFrame', 'TimerFire'];
const FIRST_PAINT = 'firstContentfulPaint';
const CATEGORIES = ['-*', 'devtools.timeline', 'disabled-by-default-devtools.timeline'];

/** What was measured, ms of the main thread's processor time. */
export interface MainThread {
  /** Of each interaction: all that the thread did from hearing of it until what it led to was handed on to be painted. */
  readonly interactions: readonly number[];
  /** Of each frame that was painted: what the page's own script took. */
  readonly script: readonly number[];
  /** Until something of a page that was opened meanwhile was first painted; 0 where none was. */
  readonly firstPaint: number;
}

/** Does something in a page, and measures its main thread meanwhile. */
export async function mainThread(page: Page, work: () => Promise<void>): Promise<MainThread> {
  const browser = page.context().browser();
  if (!browser) throw new Error('the page has no browser');
  await browser.startTracing(page, { categories: CATEGORIES });
  await work();
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as { traceEvents: Traced[] };
  const first = traceEvents.find((event) => isInteraction(event) || event.name === FIRST_PAINT);
  const own = traceEvents.filter(({ pid, tid }) => pid === first?.pid && tid === first.tid).sort((a, b) => a.ts - b.ts);
  const tasks = own.filter(({ name }) => name === 'RunTask');
  const frames = own.filter(({ name }) => name === 'Commit').map((event) => endOf(event));
  const between = (from: number, to: number, events: readonly Traced[]) =>
    events.filter(({ ts }) => ts >= from && ts < to).reduce((sum, { tdur = 0 }) => sum + tdur / 1000, 0);

  // What one press leads to is one interaction, however many events it has.
  const answered = new Map<number, number>();
  for (const event of own) {
    if (!isInteraction(event)) continue;
    const heard = tasks.findLast((task) => task.ts <= event.ts)?.ts ?? event.ts;
    const painted = frames.find((end) => end >= endOf(event));
    if (painted === undefined) continue;
    answered.set(painted, Math.max(answered.get(painted) ?? 0, between(heard, painted, tasks)));
  }
  // A script inside another one is counted with it.
  let until = 0;
  const outer = own.filter((event) => {
    if (!SCRIPT.includes(event.name) || event.ts < until) return false;
    until = endOf(event);
    return true;
  });
  const script = frames.map((end, i) => between(frames[i - 1] ?? 0, end, outer));
  const shown = own.find(({ name }) => name === FIRST_PAINT);
  const firstPaint = shown ? between(0, shown.ts, tasks) : 0;
  return { interactions: [...answered.values()], script, firstPaint };
}

const isInteraction = ({ name, args }: Traced): boolean =>
  name === 'EventDispatch' && INTERACTIONS.includes(args?.data?.type ?? '');
const endOf = ({ ts, dur = 0 }: Traced): number => ts + dur;

/** The value that a share of all does not exceed. @param share from 0 to 1 */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
}
