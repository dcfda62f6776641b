import { cautionsFor, type Work } from '../../wood';

/** The usual cautions of some kinds of work, where the work is planned. */
export function Cautions({ of }: { of: readonly Work[] }) {
  const all = [...new Set(cautionsFor(...of))];
  return (
    <details class="card cautions">
      <summary>Cautions</summary>
      <ul>
        {all.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p class="small soft">
        Follow your tools' manuals, local codes and those licensed to judge; they come before this list.
      </p>
    </details>
  );
}
