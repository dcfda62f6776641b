import { useMemo, useState } from 'preact/hooks';
import { bounds } from '../../geometry';
import { NOT_CONFIRMED } from '../../job';
import type { TopReport } from '../../plan';
import { formatForce, formatLength, formatShare } from '../../units';
import { extentOf, type Item, type XY } from '../canvas/items';
import { Sheet } from '../canvas/sheet';
import { Cautions } from '../parts/cautions';
import { Choices } from '../parts/choices';
import { useUnits } from '../parts/job-context';
import { planView } from '../plan-view';
import { bareTopItems, laidTop, topMarks } from './layout/top-items';
import { type FaceLooks, useFaceLooks } from './layout/wood';
import { NeedsPlan } from './needs-plan';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** Where the keys go along the cracks of each top, how large and how deep. */
export function Keys({ store }: StageProps) {
  const [chosen, setChosen] = useState('');
  const computed = planView(store).computed.value;
  const looks = useFaceLooks(store);
  const tops = computed?.report.tops ?? [];
  const top = tops.find(({ id }) => id === chosen) ?? tops[0];
  if (!computed || !top) {
    return (
      <StageLayout
        title="Keys"
        drawing={<NeedsPlan store={store} />}
        facts={<p>Keys follow from the cracks inside a planned top.</p>}
      />
    );
  }
  return (
    <StageLayout
      title="Keys"
      drawing={<KeySheet top={top} looks={looks} />}
      facts={
        <>
          {tops.length > 1 && (
            <Choices
              tabs
              label="Top"
              options={tops.map(({ id, name }) => [id, name] as const)}
              value={top.id}
              onChange={(id) => setChosen(id)}
            />
          )}
          <KeyFacts top={top} />
          <Cautions of={['keys', 'router template', 'epoxy']} />
        </>
      }
    />
  );
}

function KeySheet({ top, looks }: { top: TopReport; looks: FaceLooks }) {
  const units = useUnits();
  const items = useMemo((): Item[] => {
    const lay = laidTop(top, 0);
    const numbers = top.keys.map(
      ({ at }, i): Item => ({
        kind: 'text',
        id: `number-${i}`,
        at: above(lay(at)),
        text: numberOf(top, i),
        pen: 'cut',
        shape: 'ring',
      }),
    );
    const drawn = { top, placement: top.placement, outline: top.outline };
    return [...bareTopItems(drawn, looks, 0), ...topMarks(drawn, 0, units), ...numbers];
  }, [top, looks, units]);
  const box = bounds(top.outline.map(laidTop(top, 0)));
  const corners: XY[] = [
    [box.minX - 40, box.minY - 110],
    [box.maxX + 130, box.maxY + 40],
  ];
  return (
    <Sheet
      label={`Drawing of ${top.name} with its keys`}
      items={items}
      extent={extentOf(corners, 0)}
      extentKey={top.id}
    />
  );
}

/** A key's number, starred where its crack was proposed by a photo and not confirmed. */
const numberOf = ({ keys, cracks }: TopReport, i: number): string =>
  `${i + 1}${cracks[keys[i]?.crack ?? -1]?.proposed ? '*' : ''}`;

/** Clear of the key that it numbers, mm. */
const above = ([x, y]: XY): XY => [x, y - 70];

function KeyFacts({ top }: { top: TopReport }) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 1 });
  const { keys, keysRefused, cracks, hold } = top;
  if (cracks.length === 0) {
    return (
      <p class="note">
        No crack of {top.name} is to be keyed. Under Stock, Defects, a crack can be set to be held by keys.
      </p>
    );
  }
  return (
    <>
      {keys.length > 0 && (
        <section class="card" aria-label="Keys">
          <h2>
            {keys.length} {keys.length === 1 ? 'key' : 'keys'}
          </h2>
          <table class="figures">
            <thead>
              <tr>
                <th scope="col">key</th>
                <th scope="col">along</th>
                <th scope="col">from the front</th>
                <th scope="col">size</th>
                <th scope="col">depth</th>
              </tr>
            </thead>
            <tbody>
              {keys.map(({ at, size, depth, face }, i) => (
                <tr key={at.join()}>
                  <th scope="row">
                    {numberOf(top, i)}
                    {face === 'bottom' ? ' (below)' : ''}
                  </th>
                  <td>{say(top.size.length - at[0])}</td>
                  <td>{say(at[1])}</td>
                  <td>{size}</td>
                  <td>{say(depth)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {keys.some(({ crack }) => cracks[crack]?.proposed) && (
            <p class="note">* on a crack {NOT_CONFIRMED}. Settle it under Stock, Defects, before a pocket is cut.</p>
          )}
          <p class="small soft">
            Along is from the left end, as one stands before the top. Waist on the crack, the key's own grain along its
            length.
          </p>
        </section>
      )}
      {keysRefused.map(({ crack, reason }) => (
        <p key={crack} class="note">
          {reason}
        </p>
      ))}
      {keys.length > 0 && (
        <section class="card stack" aria-label="Hold">
          <h2>What they hold, roughly</h2>
          {hold.keys !== null && hold.wood !== null && hold.ratio !== null ? (
            <p>
              The keys {formatForce(hold.keys, units)}, the wood behind them {formatForce(hold.wood, units)}:{' '}
              {formatShare(hold.ratio)}.
            </p>
          ) : (
            <p>Not known: the handbook has no figure for this wood across its grain.</p>
          )}
          <p class="small soft">{hold.note}</p>
        </section>
      )}
    </>
  );
}
