import type { Job } from '../job';
import type { SlabReport, SledWork } from './report';

/** Sums over all blanks that have readings. */
export function sledWork(job: Job, slabs: readonly SlabReport[]): SledWork {
  const faces = slabs.flatMap(({ blanks }) => blanks.flatMap(({ flattening }) => flattening?.faces ?? []));
  const onSled = faces.filter(({ tool }) => tool === 'sled');
  const total = (of: typeof faces, key: 'minutes' | 'chips' | 'metres' | 'cutting'): number =>
    of.reduce((sum, face) => sum + face[key], 0);
  const chips = total(faces, 'chips');
  return {
    sled: total(onSled, 'minutes'),
    machines: total(faces, 'minutes') - total(onSled, 'minutes'),
    chips,
    bags: Math.ceil(chips / job.shop.chips.bag - 1e-9),
    metres: total(onSled, 'metres'),
    cutting: total(onSled, 'cutting'),
  };
}
