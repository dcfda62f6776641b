import { useEffect, useState } from 'preact/hooks';
import { bestShot, type Look, remarksOn } from '../../photo';
import { type Trouble, troubleOf } from '../parts/problem';
import { photoWork } from '../work';
import type { ShotWish } from './wish';

interface ShotChoiceProps {
  files: readonly File[];
  wish: ShotWish;
  onTake(file: File): void;
}

/** Shots of one thing side by side, with what is to be said of each; the best is proposed, and one tap takes it or another. */
export function ShotChoice({ files, wish, onTake }: ShotChoiceProps) {
  const looks = useLooks(files, wish);
  const seen = looks.filter((look) => look !== null && !('message' in look)) as Look[];
  const done = looks.length === files.length && looks.every((look) => look !== null);
  const best = done && seen.length > 0 ? looks.indexOf(seen[bestShot(seen)] as Look) : -1;
  return (
    <>
      <p role="status">
        {best >= 0 ? `Shot ${best + 1} is the best of ${files.length}.` : done ? '' : 'The shots are being looked at …'}
      </p>
      <ol class="shots">
        {files.map((file, i) => (
          <Shot
            key={i}
            file={file}
            number={i + 1}
            best={i === best}
            says={saysOf(looks[i] ?? null, done ? seen : [], wish)}
            usable={!looks[i] || !('message' in looks[i])}
            onTake={() => onTake(file)}
          />
        ))}
      </ol>
    </>
  );
}

function saysOf(look: Look | Trouble | null, all: readonly Look[], wish: ShotWish): readonly string[] {
  if (!look) return [];
  if ('message' in look) return [look.message, look.mend];
  return all.length > 0 ? remarksOn(look, all, wish) : [];
}

interface ShotProps {
  file: File;
  number: number;
  best: boolean;
  says: readonly string[];
  usable: boolean;
  onTake(): void;
}

function Shot({ file, number, best, says, usable, onTake }: ShotProps) {
  const [url, setUrl] = useState('');
  useEffect(() => {
    const made = URL.createObjectURL(file);
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [file]);
  return (
    <li class={best ? 'card chosen' : 'card'}>
      {url && <img src={url} alt={`Shot ${number}`} />}
      <div>
        <strong>
          {number}
          {best && ': the best'}
        </strong>
        {says.map((words) => (
          <p key={words} class="small">
            {words}
          </p>
        ))}
      </div>
      <button type="button" class={best ? 'button main' : 'button'} disabled={!usable} onClick={onTake}>
        Use {number}
      </button>
    </li>
  );
}

/** What each shows, one after the other; a file that is no photo has its problem instead. */
function useLooks(files: readonly File[], { side, beside = false }: ShotWish): readonly (Look | Trouble | null)[] {
  const [looks, setLooks] = useState<readonly (Look | Trouble | null)[]>([]);
  useEffect(() => {
    const ended = new AbortController();
    const all: (Look | Trouble | null)[] = files.map(() => null);
    const run = async () => {
      for (const [i, file] of files.entries()) {
        all[i] = await photoWork
          .call(
            ended.signal,
            () => {},
            (api, id, tell) => api.look(id, file, file.name, { side, beside }, tell),
          )
          .catch((error: unknown) => troubleOf(error));
        if (ended.signal.aborted) return;
        setLooks([...all]);
      }
    };
    void run();
    return () => ended.abort(new DOMException('closed', 'AbortError'));
  }, [files, side, beside]);
  return looks;
}
