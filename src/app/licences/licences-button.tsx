import { useState } from 'preact/hooks';
import { late } from '../stages/late';

const Sheet = late(async () => (await import('./licences-sheet')).LicencesSheet);

/** Opens the licences of all that is shipped, fetched when they are asked for. */
export function LicencesButton() {
  const [open, setOpen] = useState(false);
  return (
    <>
      <button type="button" class="button quiet" onClick={() => setOpen(true)}>
        Licences
      </button>
      {open && <Sheet onClose={() => setOpen(false)} />}
    </>
  );
}
