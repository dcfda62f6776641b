import type { Board, Shop } from '../../../job';
import type { BoardReport } from '../../../plan';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';

const PER_MM = 12;
const DEEP = 300;

/** The board from its end, thickness across the page: the leaves, the kerfs between them, and the last piece that is held. */
export function BoardDrawing({ board, report, shop }: { board: Board; report: BoardReport; shop: Shop }) {
  const units = useUnits();
  const width = board.thickness * PER_MM;
  const { kerf } = shop.resaw;
  return (
    <figure class="section-drawing">
      <figcaption>
        {board.name} from its end, {formatLength(board.thickness, units)} thick; enlarged, its width of{' '}
        {formatLength(board.width, units)} cut short. Cuts from the outer face at the left.
      </figcaption>
      <svg
        viewBox={`-12 -34 ${width + 24} ${DEEP + 46}`}
        role="img"
        aria-label={`${board.name}: ${report.leaves} leaves, ${report.cuts.length} cuts`}
      >
        <rect x={0} y={0} width={width} height={DEEP} class="section-outline" />
        {report.cuts.map((at, i) => (
          <g key={at}>
            <rect x={at * PER_MM} y={0} width={Math.max(1, kerf * PER_MM)} height={DEEP} class="section-kerf" />
            <text x={at * PER_MM} y={-10} class="section-number">
              {i + 1}
            </text>
          </g>
        ))}
      </svg>
    </figure>
  );
}
