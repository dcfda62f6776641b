import type { Face } from '../../../job';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { stretches } from './unseen-edge';

/** Says that a part of the outline was never photographed; nothing where all of it was. */
export function Unseen({ face }: { face: Face }) {
  const units = useUnits();
  const { unseen } = stretches(face);
  if (unseen.length === 0) return null;
  const longest = Math.max(
    ...unseen.map((line) =>
      line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - (line[i]?.[0] ?? x), y - (line[i]?.[1] ?? y)), 0),
    ),
  );
  return (
    <p class="note miss small">
      <strong>No photo shows {unseen.length === 1 ? 'one stretch' : `${unseen.length} stretches`} of this edge</strong>,
      up to {formatLength(longest, units, { decimals: 0, denominator: 16, unit: true })} long: the slab ran out of the
      picture, and goes on beyond the broken line. Photograph that end too, or move the points to where the wood ends.
    </p>
  );
}
