import type { SetFront } from '../job';
import type { TapeStep } from './set-types';

/**
 * In what order the pieces of a face are taped: neighbours in pairs, pairs into longer rows, so that every joint is laid open on the bench and
 * the last one is straight from edge to edge. Side joints close first, then those at a slant, then those in which grain meets end to end (common
 * practice, no source).
 * @param count pieces of the face
 */
export function taping(count: number, joints: SetFront['joints']): TapeStep[] {
  const assembly = Array.from({ length: count }, (_, i) => i);
  const members = (root: number): number[] => assembly.flatMap((own, i) => (own === root ? [i + 1] : []));
  const steps: TapeStep[] = [];
  for (const kind of ['side', 'slant', 'end'] as const) {
    for (;;) {
      // Within one round an assembly is taped once: pairs first, then pairs of pairs.
      const busy = new Set<number>();
      for (const { cells, kind: own } of joints) {
        if (own !== kind) continue;
        const [a, b] = cells.map((cell) => assembly[cell] ?? cell) as [number, number];
        if (a === b || busy.has(a) || busy.has(b)) continue;
        steps.push({ one: members(a), other: members(b), ends: kind === 'end' });
        busy.add(a).add(b);
        const root = Math.min(a, b);
        assembly.forEach((own, i) => {
          if (own === a || own === b) assembly[i] = root;
        });
        busy.add(root);
      }
      if (busy.size === 0) break;
    }
  }
  return steps;
}
