import type { Plan } from '../job';

/** The plan of a job that wants no tops: its boards and doors have papers all the same. */
export const DOORS_ALONE: Plan = {
  id: 'doors',
  name: 'Doors',
  placements: {},
  misses: [],
  waste: 0,
  cost: null,
  gap: 0,
};
