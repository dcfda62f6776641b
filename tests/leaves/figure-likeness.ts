import type { FaceFigure } from '../../src/leaves/drift';

/** Correlation of two figures on one grid. */
export function like(a: FaceFigure, b: FaceFigure): number {
  let [pq, pp, qq] = [0, 0, 0];
  for (let i = 0; i < a.lines.length; i++) {
    const [p, q] = [a.lines[i] as number, b.lines[i] as number];
    if (p === 0 || q === 0) continue;
    pq += p * q;
    pp += p * p;
    qq += q * q;
  }
  return pq / Math.sqrt(pp * qq);
}
