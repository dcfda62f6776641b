import { type Job, offerOf, type Slab } from '../../job';
import { lacks } from './stock/lacks';
import { waiting } from './stock/waiting';

/** What to do next in a job, by what it lacks: one step, in the order of the work. */

export interface NextStep {
  /** What stands behind `Next:`. */
  readonly says: string;
  /** The stage where it is done. */
  readonly stage: 'stock' | 'tops' | 'layout' | 'leaves' | 'map';
  /** What one tap does there; left out, the tap only leads to it. */
  readonly does?: 'add photos' | 'add a top' | 'lay out' | 'keep the plan' | 'look at the rack' | 'look at boards';
  /** The slab that it is about. */
  readonly slab?: string;
  /** What of the slab is looked at. */
  readonly panel?: 'photo' | 'readings' | 'defects';
}

/**
 * The next step from where one stands.
 * @param stage that is looked at: there what a kept plan still wants is said of the stage's own
 * @returns null where nothing is left but to print and saw
 */
export function nextStep(job: Job, stage: string): NextStep | null {
  const tops = Object.keys(job.tops).length > 0;
  if (!tops && Object.keys(job.doors).length > 0) return nextOfDoors(job, stage);
  if (!tops && stage === 'tops') return WANT_A_TOP;
  return nextOfStock(job) ?? (tops ? nextOfPlan(job, stage) : WANT_A_TOP);
}

const WANT_A_TOP: NextStep = { says: 'say what top you want', stage: 'tops', does: 'add a top' };

function nextOfStock(job: Job): NextStep | null {
  const slabs = slabsOf(job);
  const traced = slabs.some(isTraced);
  const [unread] = waiting(job);
  if (unread && !traced) return { says: 'measure by the photo', stage: 'stock', slab: unread.slabId, panel: 'photo' };
  if (traced) return null;
  if (slabs.length === 0) return { says: 'photos of your slabs', stage: 'stock', does: 'add photos' };
  const drafted = slabs.find(({ faces }) => Object.keys(faces.top.photos).length > 0);
  if (drafted) return { says: `say what lies on ${drafted.name}`, stage: 'stock', slab: drafted.id, panel: 'photo' };
  const bought = slabs.find((slab) => offerOf(slab) === 'bought');
  if (bought) return { says: `photograph ${bought.name}`, stage: 'stock', does: 'add photos', slab: bought.id };
  if (Object.keys(job.tops).length === 0) return WANT_A_TOP;
  return { says: 'see what to buy', stage: 'layout', does: 'look at the rack' };
}

function nextOfPlan(job: Job, stage: string): NextStep | null {
  const plans = Object.values(job.plans);
  const kept = job.plans[job.keptPlan ?? ''];
  if (plans.length === 0) return { says: 'lay the tops out', stage: 'layout', does: 'lay out' };
  if (plans.every(({ placements }) => Object.keys(placements).length === 0))
    return stage === 'tops'
      ? { says: 'lay the tops out once more', stage: 'layout', does: 'lay out' }
      : { says: 'change the top or the slabs', stage: 'tops' };
  if (!kept) return { says: 'keep the plan in view', stage: 'layout', does: 'keep the plan' };
  const used = new Set(Object.values(kept.placements).flatMap(({ strips }) => strips.map(({ slab }) => slab)));
  const open = slabsOf(job).filter((slab) => used.has(slab.id) && lacks(slab) !== null);
  const unread = open.find(({ spots, warp }) => Object.keys(spots).length === 0 && !warp);
  if (stage === 'flattening' || stage === 'map') {
    if (unread) return { says: `read the warp of ${unread.name}`, stage: 'stock', slab: unread.id, panel: 'readings' };
    const unseen = open.find(({ spots }) => Object.keys(spots).length > 0);
    if (unseen)
      return { says: `look at the defects of ${unseen.name}`, stage: 'stock', slab: unseen.id, panel: 'defects' };
  }
  return stage === 'map' ? null : { says: 'see the cutting map', stage: 'map' };
}

function nextOfDoors(job: Job, stage: string): NextStep | null {
  if (Object.keys(job.boards).length === 0)
    return { says: 'a board to saw leaves from', stage: 'stock', does: 'look at boards' };
  if (stage === 'map') return null;
  return stage === 'leaves'
    ? { says: 'see the papers', stage: 'map' }
    : { says: 'see what leaves the board gives', stage: 'leaves' };
}

const slabsOf = (job: Job): Slab[] => Object.values(job.flitches).flatMap(({ slabs }) => Object.values(slabs));

const isTraced = ({ faces }: Slab): boolean => faces.top.outline !== null || faces.bottom.outline !== null;
