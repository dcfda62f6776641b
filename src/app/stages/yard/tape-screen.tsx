import { wantedTops } from '../../../job';
import { FileButton } from '../../parts/file-button';
import { TroubleNote } from '../../parts/problem';
import { go, jobAddress } from '../../route';
import type { StageProps } from '../stage';
import { StageLayout } from '../stage-layout';
import { keepPhoto } from '../stock/read-photos';
import { stockView } from '../stock/view';
import { addTop } from '../wanted/add-top';
import { PhotoDrawing, PhotoFacts, PhotoOffer, PhotoSteps } from './by-photo';
import { TapeFields } from './tape-fields';
import { TapeSketch } from './tape-sketch';
import { TapeVerdicts } from './tape-verdicts';
import { tapeView } from './tape-view';

/** One slab of a rack on one short form, with what it carries of the wanted tops as soon as it can be told. */
export function TapeScreen({ store }: StageProps) {
  const view = tapeView(store);
  const place = view.place.value;
  const job = store.job.value;
  if (!place) return null;
  const { flitch, slab } = place;
  const told = view.verdicts.value;
  const wanted = wantedTops(job).length > 0;
  const photos = Object.keys(slab.faces.top.photos).length;
  const next = () => {
    view.next();
    // The next slab begins at its first field, wherever the last one ended.
    requestAnimationFrame(() => document.querySelector<HTMLElement>('.tape-fields input')?.focus());
  };

  const stock = stockView(store);
  if (view.onPhoto.value)
    return (
      <StageLayout
        title={`At the yard, ${slab.name}`}
        primary={<PhotoSteps view={view} stock={stock} slab={slab} />}
        drawing={<PhotoDrawing stock={stock} slab={slab} />}
        facts={<PhotoFacts stock={stock} slab={slab} />}
      />
    );

  const sayTop = () => {
    addTop(store);
    go(jobAddress(store.id, 'tops'));
  };

  return (
    <StageLayout
      title={`At the yard, ${slab.name}`}
      primary={
        <div class="row">
          <button type="button" class="button main" onClick={next}>
            Next slab
          </button>
          <button
            type="button"
            class="button"
            onClick={() => {
              view.onPhoto.value = false;
              view.slab.value = null;
            }}
          >
            Done
          </button>
        </div>
      }
      drawing={
        <div class="tape-drawing">
          <TapeSketch slab={slab} />
          <div aria-live="polite">
            {!wanted ? (
              <p class="on-paper">
                Say what top you want, and each slab is told by it.{' '}
                <button type="button" class="button" onClick={sayTop}>
                  Say what top you want
                </button>
              </p>
            ) : told && told.length > 0 ? (
              <TapeVerdicts job={job} told={told} />
            ) : (
              <p class="on-paper soft">
                {told ? 'With its length and a width you hear what it carries.' : 'Looking …'}
              </p>
            )}
          </div>
        </div>
      }
      facts={
        <>
          <TroubleNote trouble={view.trouble.value} />
          <div class="row">
            <h2>{slab.name}</h2>
            <FileButton accept="image/*" camera onFiles={([file]) => file && void keepPhoto(stock, slab.id, file)}>
              {photos > 0 ? 'Another photo' : 'Photo'}
            </FileButton>
            {photos > 0 && <span class="small soft">{photos === 1 ? 'Photo kept' : `${photos} photos kept`}.</span>}
          </div>
          <TroubleNote trouble={stock.trouble.value} />
          <PhotoOffer view={view} stock={stock} slab={slab} />
          <TapeFields key={slab.id} store={store} flitch={flitch} slab={slab} onEnd={next} />
        </>
      }
    />
  );
}
