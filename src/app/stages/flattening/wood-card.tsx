import {
  type BlankWood,
  dryingWords,
  fixingRows,
  glueWords,
  pithWords,
  seasonWords,
  type TopWood,
  weightWords,
} from '../../../plan';
import { useUnits } from '../../parts/job-context';

/** How a blank dries and what it weighs. */
export function BlankWoodCard({ wood }: { wood: BlankWood }) {
  const units = useUnits();
  return (
    <section class="card stack" aria-label="Drying and weight">
      <h2>Drying and weight</h2>
      {wood.drying ? (
        dryingWords(wood.drying, units).map((words) => <p key={words}>{words}</p>)
      ) : (
        <p class="soft">Without a moisture and a thickness nobody can say how it dries, or what it weighs.</p>
      )}
      {wood.pith && <p class="note">{pithWords(wood.pith)}</p>}
      {wood.weight && <p>Rough-cut it weighs {weightWords(wood.weight, wood.lift, units)}.</p>}
      {wood.drying && <p class="small soft">{wood.drying.source}</p>}
    </section>
  );
}

/** How a top is glued up and fixed, and how it moves afterwards. */
export function TopWoodCard({ wood }: { wood: TopWood }) {
  const units = useUnits();
  const { glue, fixing, weight, lift } = wood;
  return (
    <section class="card stack" aria-label={`Gluing and fixing ${wood.name}`}>
      {glue.map((seam, i) => (
        <div key={i} class="stack">
          <h2>{glue.length > 1 ? `Gluing seam ${i + 1}` : 'Gluing the seam'}</h2>
          {glueWords(seam, units).map((words) => (
            <p key={words}>{words}</p>
          ))}
        </div>
      ))}
      <h2>Fixing {wood.name}</h2>
      {weight && <p>Finished it weighs {weightWords(weight, lift, units)}.</p>}
      <p>{seasonWords(fixing, units)}</p>
      <table class="figures">
        <caption class="small soft">{fixing.perRow} screws a row</caption>
        <thead>
          <tr>
            <th scope="col">row, from the front edge</th>
            <th scope="col">hole</th>
          </tr>
        </thead>
        <tbody>
          {fixingRows(fixing, units).map(({ at, hole }) => (
            <tr key={at}>
              <th scope="row">{at}</th>
              <td>{hole}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
