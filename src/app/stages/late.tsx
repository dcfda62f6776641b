import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';

/** A part whose script may be fetched before it is opened. */
type LatePart<Props> = ComponentType<Props> & { prepare(): Promise<unknown> };

/** A screen, or a part of one, whose script is fetched when it is first opened, or before by `prepare`, so that the opening screen is there sooner. */
export function late<Props extends object>(fetched: () => Promise<ComponentType<Props>>): LatePart<Props> {
  let known: ComponentType<Props> | null = null;
  const prepare = async () => {
    known = await fetched();
    return known;
  };
  function Late(props: Props) {
    const [Screen, setScreen] = useState(() => known);
    const [trouble, setTrouble] = useState<Trouble | null>(null);
    const [tries, setTries] = useState(0);
    useEffect(() => {
      if (Screen) return;
      prepare().then(
        (screen) => setScreen(() => screen),
        (error: unknown) => setTrouble(troubleOf(error)),
      );
    }, [Screen, tries]);
    if (Screen) return <Screen {...props} />;
    if (!trouble) return null;
    const again = (): void => {
      setTrouble(null);
      setTries(tries + 1);
    };
    return (
      <div class="empty-sheet">
        <TroubleNote trouble={trouble} />
        <button type="button" class="button main" onClick={again}>
          Try again
        </button>
      </div>
    );
  }
  return Object.assign(Late, { prepare });
}
