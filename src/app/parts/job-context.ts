import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { UnitSystem } from '../../units';
import type { JobStore } from '../store';

/** The open job, for parts deep inside a stage. */
export const JobContext = createContext<JobStore | null>(null);

/** The open job's store. Only inside a job's screen. */
export function useStore(): JobStore {
  const store = useContext(JobContext);
  if (!store) throw new Error('This part stands outside a job.');
  return store;
}

/** The units that the job is read and typed in. */
export const useUnits = (): UnitSystem => useStore().job.value.units;
