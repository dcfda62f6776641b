import type { Section } from '../../../flattening';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';

/** The drawing's own width and the height that the wood takes in it, in its units. */
const WIDTH = 1000;
const HEIGHT = 190;
/** Exaggerations of height that a drawing may say. */
const FACTORS = [1, 2, 5, 10, 20, 50];

/** A blank from the side: both faces, and the planes that the first flattening leaves between them. Heights are exaggerated, and it says by how much. */
export function SectionDrawing({ title, section }: { title: string; section: Section }) {
  const units = useUnits();
  const { along, top, bottom, upper, under } = section;
  const length = along.at(-1) ?? 1;
  const [low, high] = [Math.min(...bottom), Math.max(...top)];
  const perMm = WIDTH / length;
  const factor = FACTORS.findLast((f) => (high - low) * perMm * f <= HEIGHT) ?? 1;
  const height = Math.max(40, (high - low) * perMm * factor);
  const place = (x: number, z: number) => `${(x * perMm).toFixed(1)},${((high - z) * perMm * factor).toFixed(1)}`;
  const line = (zs: readonly number[]) => zs.map((z, i) => place(along[i] ?? 0, z)).join(' ');
  const wood = `${line(top)} ${line(bottom).split(' ').reverse().join(' ')}`;
  const id = title.replaceAll(/\W/g, '');
  return (
    <figure class="section-drawing">
      <figcaption>
        {title}, {formatLength(length, units, { decimals: 0 })} long. Heights{' '}
        {factor === 1 ? 'to scale' : `exaggerated ${factor} times`}.
      </figcaption>
      <svg
        viewBox={`-10 -12 ${WIDTH + 20} ${height + 24}`}
        role="img"
        aria-label={`${title}: the two faces, and the two planes between them`}
      >
        <defs>
          <pattern id={`grain-${id}`} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(60)">
            <path d="M0 0V9" class="section-grain" />
          </pattern>
        </defs>
        <polygon points={wood} fill={`url(#grain-${id})`} class="section-wood" />
        <polyline points={line(upper)} class="section-plane" />
        <polyline points={line(under)} class="section-plane" />
      </svg>
      <p class="small soft legend-row">
        <span class="key-ink" aria-hidden="true" /> the faces as read <span class="key-cut" aria-hidden="true" /> where
        flattening stops
      </p>
    </figure>
  );
}
