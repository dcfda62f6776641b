import { useState } from 'preact/hooks';
import { type Question, questions } from '../../../../surface';
import { GuideButton } from '../../../guide/guide-button';
import { TickField } from '../../../parts/fields';
import { useLater } from '../../../parts/use-later';
import type { StockView } from '../view';
import { AddGrid } from './add-grid';
import { QuestionsCard } from './questions-card';
import { ReadingsTable } from './readings-table';
import { SheetPrint } from './sheet-print';
import { SlabAnswer } from './slab-answer';
import { StringCard } from './string-card';
import { ThumbEntry } from './thumb-entry';
import { WarpFields } from './warp-fields';

const NOTHING: readonly Question[] = [];

/** What is read of a slab: drops and thicknesses at spots, bow, cup and twist, a string photographed. */
export function ReadingsPanel({ view }: { view: StockView }) {
  const { slab, flitch } = view.place.value ?? {};
  const spots = Object.values(slab?.spots ?? {});
  const readUnder = spots.some(({ bottom }) => bottom !== null);
  const [under, setUnder] = useState(readUnder);
  const asked = useLater(slab?.id ?? '', () => (slab ? questions(slab) : NOTHING), [slab]) ?? NOTHING;
  if (!slab) return null;
  const readApart = (apart: boolean) =>
    view.editSlab(slab.id, apart ? 'Faces read each by itself' : 'Faces read over one plane', (draft) => {
      draft.heights = apart ? 'apart' : 'together';
    });

  return (
    <div class="stack">
      {spots.length > 0 && <ThumbEntry key={slab.id} view={view} slab={slab} underside={under} asked={asked} />}
      <QuestionsCard view={view} slab={slab} asked={asked} />
      {flitch && <SlabAnswer key={`answer ${slab.id}`} view={view} flitch={flitch} slab={slab} />}
      <p class="small soft">
        Slab on two bearers, each 0.22 of its length from an end. At every spot measure from the rails down to the wood,
        and the thickness with callipers along the edges.
      </p>
      <AddGrid view={view} slab={slab} />
      <TickField
        label="I read the underside, too"
        value={under}
        onChange={(also) => {
          setUnder(also);
          // The underside is seldom read but by turning the slab over.
          if (also && !readUnder && slab.heights !== 'apart') readApart(true);
        }}
      />
      {under && (
        <TickField
          label="Slab turned over, rails set anew for it"
          value={slab.heights === 'apart'}
          onChange={readApart}
        />
      )}
      {spots.length === 0 && <p>No readings yet: without them, nobody knows how thick it will finish.</p>}
      <WarpFields view={view} slab={slab} />
      <StringCard view={view} slab={slab} />
      {(spots.length > 0 || slab.faces.top.outline) && <SheetPrint view={view} />}
      <GuideButton chapter="readings">How to take them</GuideButton>
      {spots.length > 0 && (
        <>
          <p class="small soft">
            Drops count downward from the rails; wood that stands over them is less than nothing. A spot's drop and
            thickness give its underside. Arrow keys go from box to box.
          </p>
          <ReadingsTable view={view} slab={slab} underside={under} />
        </>
      )}
    </div>
  );
}
