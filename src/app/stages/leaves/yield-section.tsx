import type { Board } from '../../../job';
import type { BoardReport } from '../../../plan';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { ScrollBox } from '../../parts/scroll-box';
import { useNarrow } from '../../parts/use-narrow';

/** Units of the drawing a millimetre of thickness takes, and how much of the board's height is drawn: on a wide screen, and on a narrow one, whose letters must not shrink. */
const WIDE = { perMm: 12, high: 260 };
const NARROW = { perMm: 7, high: 200 };
/** Narrower than so many pixels a millimetre leaves cannot be told apart: the drawing then scrolls sideways. */
const LEAST_PX = 5;
/** A leaf this wide in the drawing has room for its number. */
const ROOM = 15;

const CLASSES = {
  leaf: 'slice-leaf',
  kerf: 'slice-kerf',
  rest: 'slice-rest',
  dressing: 'slice-planed',
  'outer face': 'slice-planed',
  back: 'slice-planed',
} as const;

/**
 * The board as it stands on the saw's table, seen from its end: its thickness from left to right, to scale, its height broken off. Leaves are
 * numbered from the outer face, cuts in the order of work.
 */
export function YieldSection({ board, report }: { board: Board; report: BoardReport }) {
  const units = useUnits();
  const { sawn, ready } = report;
  const { flat, strips, saw } = ready;
  const { perMm, high } = useNarrow() ? NARROW : WIDE;
  const width = flat * perMm;
  const leaves = sawn.slices.filter(({ what }) => what === 'leaf');
  const say = (mm: number) => formatLength(mm, units, { unit: true });
  const strip = strips.count > 1 ? `, one of ${strips.count} strips,` : '';
  return (
    <figure class="section-drawing yield-figure">
      <figcaption>
        {board.name}
        {strip} from its end as it stands on the table, {say(flat)} thick once flat. To scale; its height of{' '}
        {say(strips.width)} is broken off. The outer face is at the left.
      </figcaption>
      <ScrollBox says={`${board.name} from its end`} kind="scroll-x yield-scroll">
        <svg
          viewBox={`-30 -44 ${width + 60} ${high + 92}`}
          style={{ minWidth: `${flat * LEAST_PX}px` }}
          role="img"
          aria-label={`${board.name}: ${sawn.leaves} leaves, ${sawn.cuts.length} cuts`}
        >
          <defs>
            <pattern
              id={`rest-${board.id}`}
              width="12"
              height="12"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(45)"
            >
              <path d="M0 0V12" class="section-grain" />
            </pattern>
          </defs>
          {sawn.slices.map(({ what, from, to }) => (
            <rect
              key={from}
              x={from * perMm}
              y={0}
              width={(to - from) * perMm}
              height={high}
              class={CLASSES[what]}
              {...(what === 'rest' && { fill: `url(#rest-${board.id})` })}
            />
          ))}
          {leaves.map(({ from, to }, i) => (
            <text
              key={from}
              x={((from + to) / 2) * perMm}
              y={high / 2 + (i % 2 === 1 && (to - from) * perMm < 2 * ROOM ? 22 : 0)}
              class="slice-number"
            >
              {i + 1}
            </text>
          ))}
          {sawn.cuts.map(({ number, at }, i) => (
            <text
              key={number}
              x={(at + saw.kerf / 2) * perMm}
              y={i % 2 === 0 || sawn.cuts.length < 12 ? -10 : -26}
              class="section-number"
            >
              {number}
            </text>
          ))}
          <path
            class="section-outline"
            d={`M0 0H${width}V${high}${Array.from({ length: 8 }, (_, i) => `L${width * (1 - (i + 1) / 8)} ${high + (i % 2 === 0 ? 8 : 0)}`).join('')}Z`}
          />
          <text x={0} y={high + 34} class="slice-face start">
            outer face
          </text>
          <text x={width} y={high + 34} class="slice-face end">
            back
          </text>
        </svg>
      </ScrollBox>
      <p class="small soft legend-row yield-legend">
        <span class="slice-key kerf" aria-hidden="true" /> saw cut, numbered in order{' '}
        <span class="slice-key planed" aria-hidden="true" /> planed or dressed{' '}
        <span class="slice-key rest" aria-hidden="true" /> rest
      </p>
    </figure>
  );
}
