import type { Way } from '../../../leaves';
import type { BoardReport, WayCount } from '../../../plan';

const STARTS: readonly (readonly [Way['start'], string])[] = [
  ['one face', 'From one face'],
  ['both faces', 'From both faces in turn'],
  ['halved', 'Halved first'],
];
const COLUMNS: readonly (readonly [Pick<Way, 'dressed' | 'carrier'>, string])[] = [
  [{ dressed: true, carrier: false }, 'dressed'],
  [{ dressed: false, carrier: false }, 'not dressed'],
  [{ dressed: true, carrier: true }, 'dressed, on a carrier'],
  [{ dressed: false, carrier: true }, 'not dressed, on a carrier'],
];

const isWay = (a: Way, b: Way): boolean => a.start === b.start && a.dressed === b.dressed && a.carrier === b.carrier;

/** Every way of working side by side with the leaves that it gives; the one in use is pressed. */
export function YieldWays({ report, onWay }: { report: BoardReport; onWay(way: Way): void }) {
  const { ways, wanted, way: now } = report;
  const most = Math.max(...ways.map(({ leaves }) => leaves));
  const enough = ({ given }: WayCount): boolean => wanted > 0 && given >= wanted;
  return (
    <>
      <h3>Ways of working</h3>
      <table class="ways">
        <thead>
          <tr>
            <th rowSpan={2} scope="col">
              <span class="hidden-text">start</span>
            </th>
            <th colSpan={2} scope="colgroup">
              last piece held
            </th>
            <th colSpan={2} scope="colgroup">
              on a carrier
            </th>
          </tr>
          <tr>
            {COLUMNS.map(([{ dressed, carrier }]) => (
              <th key={`${dressed} ${carrier}`} scope="col">
                {dressed ? 'dressed' : 'not'}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {STARTS.map(([start, title]) => (
            <tr key={start}>
              <th scope="row">{title}</th>
              {COLUMNS.map(([rest, name]) => {
                const way = { start, ...rest };
                const count = ways.find((each) => isWay(each.way, way));
                if (!count) return null;
                const says = `${title}, ${name}: ${count.leaves} leaves${enough(count) ? ', enough for the doors' : ''}`;
                return (
                  <td key={name}>
                    <button
                      type="button"
                      class={`button${count.leaves === most ? ' most' : ''}`}
                      aria-pressed={isWay(way, now)}
                      aria-label={says}
                      title={says}
                      onClick={() => onWay(way)}
                    >
                      {count.leaves}
                      {enough(count) && <span aria-hidden="true"> ✓</span>}
                    </button>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small soft">
        Leaves by each, the board dressed between cuts or not; press one to work that way.
        {wanted > 0 && ' ✓ gives every panel face that is still wanted.'}
      </p>
    </>
  );
}
