import { bounds } from '../../../geometry';
import type { Slab } from '../../../job';
import { assumedSlab } from '../../../layout';
import { isTapedOnly, tapedOnlyWords } from '../../../plan';
import { formatLength, formatPlusMinus } from '../../../units';
import { useStore } from '../../parts/job-context';

/** Room around the slab for its figures, as a share of its length. */
const AROUND = 0.06;

/** The slab as it is known: from its photo in ink, from a tape broken, with what was taped in chalk. */
export function TapeSketch({ slab }: { slab: Slab }) {
  const job = useStore().job.value;
  const outline = assumedSlab(slab).faces.top.outline ?? slab.faces.bottom.outline;
  if (!outline) return <p class="on-paper">Type its length and a width; the slab is drawn here.</p>;
  const taped = isTapedOnly(slab);
  const sigma = slab.faces.top.outline ? slab.faces.top.outlineSigma : slab.faces.bottom.outlineSigma;
  const { minX, maxX, minY, maxY } = bounds(outline.outer);
  const pad = AROUND * (maxX - minX);
  const say = (mm: number | null | undefined) => (mm ? formatLength(mm, job.units, { decimals: 0 }) : '');
  const path = `M${outline.outer.map(([x, y]) => `${x},${y}`).join('L')}Z`;
  return (
    <figure class="tape-sketch">
      <svg
        viewBox={`${minX - pad} ${minY - pad} ${maxX - minX + 2 * pad} ${maxY - minY + 2 * pad}`}
        role="img"
        aria-label={`${slab.name} as it is known`}
      >
        <path d={path} class={taped ? 'wood taped' : 'wood'} />
        {taped &&
          [0.1, 0.5, 0.9].map((share, i) => {
            const x = minX + share * (maxX - minX);
            const half = (slab.taped?.widths[i] ?? 0) / 2;
            return half === 0 ? null : <line key={share} x1={x} x2={x} y1={-half} y2={half} class="chalk" />;
          })}
      </svg>
      <figcaption class="small">
        {taped ? (
          <>
            <strong>{slab.name}</strong>, {say(slab.taped?.length)} ×{' '}
            {slab.taped?.widths.filter(Boolean).map(say).join(' / ')}, {tapedOnlyWords(job)}
          </>
        ) : (
          <>
            <strong>{slab.name}</strong>, from its photo
            {sigma != null && <>: edges {formatPlusMinus(2 * sigma, job.units, { unit: true })}</>}
          </>
        )}
      </figcaption>
    </figure>
  );
}
