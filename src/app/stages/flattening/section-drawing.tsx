import type { Section } from '../../../flattening';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';

/** The drawing's own width and the height that the wood takes in it, in its units. */
const WIDTH = 1000;
const HEIGHT = 190;
/** Exaggerations of height that a drawing may say. */
const FACTORS = [1, 2, 5, 10, 20, 50];

interface SectionDrawingProps {
  title: string;
  section: Section;
  /** Heights to the same scale as lengths. */
  toScale: boolean;
}

/**
 * A blank from the side: both faces with how sure they are, the planes that the first flattening leaves between them, and where each pass
 * stops. Where heights are exaggerated it says by how much.
 */
export function SectionDrawing({ title, section, toScale }: SectionDrawingProps) {
  const units = useUnits();
  const { along, top, bottom, topSigma, bottomSigma, upper, under, stops } = section;
  const length = along.at(-1) || 1;
  const [low, high] = [Math.min(...bottom, ...under), Math.max(...top, ...upper)];
  // A short blank is drawn narrower, so that it takes no more height than a long one.
  const perMm = Math.min(WIDTH / length, HEIGHT / (high - low || 1));
  const factor = toScale ? 1 : (FACTORS.findLast((f) => (high - low) * perMm * f <= HEIGHT) ?? 1);
  const drawn = (high - low) * perMm * factor;
  // Whichever way it is seen it takes the same room, so that nothing jumps when another drawing comes.
  const height = Math.max(toScale ? 40 : HEIGHT, drawn);
  const place = (x: number, z: number) => `${(x * perMm).toFixed(1)},${((high - z) * perMm * factor).toFixed(1)}`;
  const line = (zs: readonly number[]) => zs.map((z, i) => place(along[i] ?? 0, z)).join(' ');
  const between = (one: readonly number[], two: readonly number[]) =>
    `${line(one)} ${line(two).split(' ').reverse().join(' ')}`;
  const shifted = (zs: readonly number[], by: readonly number[], times: number) =>
    zs.map((z, i) => z + times * (by[i] as number));
  const id = title.replaceAll(/\W/g, '');
  // A pass shows only where there is wood for it.
  const stop = (plane: readonly number[], by: number, side: 1 | -1) =>
    plane.map((z, i) => (side > 0 ? Math.min(z + by, top[i] as number) : Math.max(z - by, bottom[i] as number)));
  return (
    <figure class="section-drawing">
      <figcaption>
        {title}, {formatLength(length, units, { decimals: 0 })} long. Heights{' '}
        {factor === 1 ? 'to scale' : `exaggerated ${factor} times`}.
      </figcaption>
      <svg
        viewBox={`${(length * perMm - WIDTH) / 2 - 10} ${(drawn - height) / 2 - 12} ${WIDTH + 20} ${height + 24}`}
        role="img"
        aria-label={`${title}: the two faces, and the two planes between them`}
      >
        <defs>
          <pattern id={`grain-${id}`} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(60)">
            <path d="M0 0V9" class="section-grain" />
          </pattern>
        </defs>
        <polygon points={between(top, bottom)} fill={`url(#grain-${id})`} class="section-wood" />
        <polygon points={between(shifted(top, topSigma, 2), shifted(top, topSigma, -2))} class="section-doubt" />
        <polygon
          points={between(shifted(bottom, bottomSigma, 2), shifted(bottom, bottomSigma, -2))}
          class="section-doubt"
        />
        {stops.top.slice(0, -1).map((by) => (
          <polyline key={`over-${by}`} points={line(stop(upper, by, 1))} class="section-pass" />
        ))}
        {stops.bottom.slice(0, -1).map((by) => (
          <polyline key={`under-${by}`} points={line(stop(under, by, -1))} class="section-pass" />
        ))}
        <polyline points={line(upper)} class="section-plane" />
        <polyline points={line(under)} class="section-plane" />
      </svg>
    </figure>
  );
}

/** As much room as a section takes, until it is drawn: nothing jumps when it comes. */
export function SectionRoom({ title }: { title: string }) {
  return (
    <figure class="section-drawing">
      <figcaption class="soft">{title}: drawing …</figcaption>
      <svg viewBox={`-10 -12 ${WIDTH + 20} ${HEIGHT + 24}`} aria-hidden="true" />
    </figure>
  );
}

/** What the lines of a section mean. */
export function SectionLegend() {
  return (
    <p class="small soft legend-row">
      <span class="key-ink" aria-hidden="true" /> the faces as read, with their ±{' '}
      <span class="key-pass" aria-hidden="true" /> a pass stops <span class="key-cut" aria-hidden="true" /> flattening
      stops
    </p>
  );
}
