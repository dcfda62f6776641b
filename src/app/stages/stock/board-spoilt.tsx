import { bounds, rectangle } from '../../../geometry';
import type { Board } from '../../../job';
import { formatLength } from '../../../units';
import { newId } from '../../jobs';
import { LengthField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';

type Spoilt = NonNullable<Board['spoilt']>[number];

/** A spoilt place as it is typed: along the board, and across it where only a part of the width is spoilt. */
interface Place {
  from: number;
  to: number;
  low: number | null;
  high: number | null;
}

function placeOf(one: Spoilt): Place {
  if (!('polygon' in one)) return { from: one.from, to: one.to, low: null, high: null };
  const { minX, minY, maxX, maxY } = bounds(one.polygon);
  return { from: minX, to: maxX, low: minY, high: maxY };
}

/** As the job keeps it: a stretch of the whole width, or the box that is spoilt. */
function spoiltOf(id: string, { from, to, low, high }: Place, { width }: Board): Spoilt {
  if (low === null && high === null) return { id, from, to };
  return { id, polygon: rectangle(from, low ?? 0, to, high ?? width) };
}

/** What of a board no leaf may use: knots, checks, sapwood, by stretches along it or boxes on its face. */
export function BoardSpoilt({ board, onChange }: { board: Board; onChange(spoilt: Spoilt[]): void }) {
  const units = useUnits();
  const { spoilt = [] } = board;
  const say = (mm: number) => formatLength(mm, units);
  function change(one: Spoilt, part: Partial<Place>) {
    const place = { ...placeOf(one), ...part };
    onChange(spoilt.map((each) => (each.id === one.id ? spoiltOf(one.id, place, board) : each)));
  }
  function add() {
    const last = spoilt.reduce((most, each) => Math.max(most, placeOf(each).to), 0);
    const from = Math.min(last, Math.max(0, board.length - 50));
    onChange([...spoilt, { id: newId(), from, to: Math.min(board.length, from + 50) }]);
  }
  return (
    <details class="fold" open={spoilt.length > 0}>
      <summary>Spoilt places{spoilt.length > 0 && `: ${spoilt.length}`}</summary>
      <ul class="plain list">
        {spoilt.map((one, i) => {
          const { from, to, low, high } = placeOf(one);
          const name = `Place ${i + 1}`;
          const wrong =
            from >= board.length
              ? `It begins beyond the board's ${say(board.length)}: nothing is lost by it.`
              : low !== null && low >= board.width
                ? `It lies beside the board, which is ${say(board.width)} wide.`
                : null;
          return (
            <li key={one.id} class="stack">
              <div class="fields four">
                <LengthField
                  label={`${name}: from`}
                  sign="zero"
                  value={from}
                  onChange={(mm) => change(one, mm < to ? { from: mm } : { from: to, to: Math.max(mm, to + 1) })}
                />
                <LengthField
                  label="to"
                  value={to}
                  onChange={(mm) => change(one, mm > from ? { to: mm } : { from: mm, to: from })}
                />
                <LengthField
                  label="in from the edge"
                  optional
                  sign="zero"
                  value={low}
                  onChange={(mm) =>
                    change(one, { low: mm, high: mm === null ? null : Math.max(high ?? board.width, mm + 1) })
                  }
                />
                <LengthField
                  label="to"
                  optional
                  value={high}
                  onChange={(mm) => change(one, { high: mm, low: mm === null ? null : Math.min(low ?? 0, mm - 1) })}
                />
              </div>
              {wrong && <p class="problem">{wrong}</p>}
              <button
                type="button"
                class="button"
                aria-label={`Take out ${name}`}
                onClick={() => onChange(spoilt.filter(({ id }) => id !== one.id))}
              >
                Take it out
              </button>
            </li>
          );
        })}
      </ul>
      <button type="button" class="button" onClick={add}>
        Add a spoilt place
      </button>
      <p class="small soft">Along the board from its left end. Left empty across, the whole width is spoilt there.</p>
    </details>
  );
}
