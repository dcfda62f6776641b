import { NOT_CONFIRMED } from '../../../job';
import { formatLength } from '../../../units';
import { announce } from '../../announce';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { addKey, backToProposed, type KeyBench, newKey, numberOf, whyNone, widestGap } from './bench';
import type { KeysHand } from './hand';

interface KeysCardProps {
  store: JobStore;
  bench: KeyBench;
  hand: KeysHand;
  /** How a crack is called. */
  nameOf(crack: number): string;
}

/** The keys of a top in a table, each to be chosen; a further one; and back to what is proposed. */
export function KeysCard({ store, bench, hand, nameOf }: KeysCardProps) {
  const units = useUnits();
  const { keys, judged, top, given } = bench;
  const chosen = hand.chosen.value;
  const crack = hand.crack.value;
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const name = nameOf(crack);
  const onWhat = top.cracks[crack]?.seam ? top.cracks[crack].called : `${name.charAt(0).toLowerCase()}${name.slice(1)}`;
  const several = top.cracks.length > 1;
  const all = given.keys.length;
  const count = given.keys.filter((key) => key.crack === crack).length;
  const add = () => {
    const key = newKey(bench, hand, crack, widestGap(bench, crack));
    const list = [...keys, key];
    const free = bench.room.nearestFree(list, list.length - 1);
    if (free === null) {
      // What speaks against it is said where it would stand.
      hand.choose(null, crack);
      hand.spot.value = { crack, along: key.along };
      announce('No place along this crack is free for a further key.');
    } else addKey(store, bench, hand, { ...key, along: free });
  };
  return (
    <section class="card stack" aria-label="Keys">
      <h2>
        {count === 0 ? 'No key' : `${count} ${count === 1 ? 'key' : 'keys'}`} on {onWhat}
        {several && `, ${all} in all`}
      </h2>
      {whyNone(bench, crack).map((why) => (
        <p key={why}>{why}</p>
      ))}
      <p class="small soft">{bench.set ? 'As you set them.' : 'As proposed by the rules below.'}</p>
      {keys.length > 0 && (
        <div class="scroll-x">
          <table class="figures key-rows">
            <thead>
              <tr>
                <th scope="col">key</th>
                <th scope="col">from the left tip</th>
                <th scope="col">size</th>
                <th scope="col">deep</th>
              </tr>
            </thead>
            <tbody>
              {keys.map(
                (key, i) =>
                  key.crack === crack && (
                    <tr key={i} class={i === chosen ? 'chosen' : undefined}>
                      <th scope="row">
                        <button
                          type="button"
                          class="button"
                          aria-pressed={i === chosen}
                          aria-label={`Key ${numberOf(bench, i)}`}
                          onClick={() => hand.choose(i === chosen ? null : i, key.crack)}
                        >
                          {numberOf(bench, i)}
                        </button>
                      </th>
                      <td>
                        {say(key.along)}
                        {judged[i]?.against && <span class="breaks"> ✕</span>}
                      </td>
                      <td>
                        {key.size}
                        {key.face === 'bottom' ? ', under' : key.face === 'both' ? ', both faces' : ''}
                      </td>
                      <td>{judged[i]?.depth ? formatLength(judged[i].depth, units, { decimals: 1 }) : '–'}</td>
                    </tr>
                  ),
              )}
            </tbody>
          </table>
        </div>
      )}
      {judged.map((one, i) => {
        const against = one ? one.against : `The shop has no size "${keys[i]?.size}".`;
        return (
          against && (
            <p key={i} class="note miss">
              <strong>Key {numberOf(bench, i)}:</strong> {against}
            </p>
          )
        );
      })}
      <div class="row wrap">
        <button type="button" class="button" onClick={add}>
          Add a key
        </button>
        {bench.set && (
          <button type="button" class="button" onClick={() => backToProposed(store, bench, hand)}>
            Back to the proposed keys
          </button>
        )}
      </div>
      <p class="small soft">
        Slide a key by hand on the drawing or the strip; tap a bare place of the crack to ask for one there. Waist on
        the crack, the key's own grain along its length.
      </p>
      {top.cracks.some(({ proposed }) => proposed) && (
        <p class="note">* on a crack {NOT_CONFIRMED}. Settle it under Stock, Defects, before a pocket is cut.</p>
      )}
    </section>
  );
}
