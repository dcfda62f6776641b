import { useEffect, useState } from 'preact/hooks';
import { OverSheet } from '../parts/over-sheet';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import type { Licence } from './licence';

async function fetched(): Promise<Licence[]> {
  const response = await fetch('licences.json');
  if (!response.ok) throw new Error('the list comes with the built app');
  return response.json();
}

/** Whose work the app is built on, and under which licence each of it stands. */
export function LicencesSheet({ onClose }: { onClose(): void }) {
  const [list, setList] = useState<readonly Licence[]>([]);
  const [trouble, setTrouble] = useState<Trouble | null>(null);

  useEffect(() => {
    fetched().then(setList, (error) => setTrouble(troubleOf(error)));
  }, []);

  return (
    <OverSheet title="Licences" onClose={onClose}>
      <p>Waneline is built on the work of others. Each part has its own licence.</p>
      <TroubleNote trouble={trouble} />
      {list.map(({ name, version, licence, text }) => (
        <details key={`${name} ${version}`}>
          <summary>
            {name} {version} <span class="soft">{licence}</span>
          </summary>
          <pre class="licence small">{text || `Its licence is ${licence}; it brings no other text.`}</pre>
        </details>
      ))}
    </OverSheet>
  );
}
