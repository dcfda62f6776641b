import { useState } from 'preact/hooks';
import { ChoiceField } from '../../../parts/fields';
import type { StockView } from '../view';
import { PAPERS } from './papers';
import { ReferenceLength } from './reference-length';

const OWN = 'own';
const NAMES = [...Object.keys(PAPERS).map((name) => [name, name] as const), [OWN, 'Another size'] as const];

/** One white sheet of paper. */
export function SheetFields({ view }: { view: StockView }) {
  const { sheet } = view.reference.value;
  const known = Object.entries(PAPERS).find(
    ([, { width, height }]) => sheet.width === width && sheet.height === height,
  );
  const [own, setOwn] = useState(known === undefined);
  const shown = own ? OWN : (known?.[0] ?? OWN);
  return (
    <>
      <p class="small soft">
        One whole white sheet, flat on the wood, its corners down, nothing else white beside it. It is found by itself.
      </p>
      <div class="fields">
        <ChoiceField
          label="Paper"
          value={shown}
          options={NAMES}
          onChange={(name) => {
            setOwn(name === OWN);
            const paper = PAPERS[name as keyof typeof PAPERS];
            if (paper)
              view.editReference('Paper', (draft) => {
                draft.sheet = { ...paper };
              });
          }}
        />
        {shown === OWN && (
          <>
            <ReferenceLength
              view={view}
              label="Long side"
              value={sheet.width}
              set={(draft, mm) => {
                draft.sheet.width = mm;
              }}
            />
            <ReferenceLength
              view={view}
              label="Short side"
              value={sheet.height}
              set={(draft, mm) => {
                draft.sheet.height = mm;
              }}
            />
          </>
        )}
      </div>
    </>
  );
}
