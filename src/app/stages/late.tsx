import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';

/** A screen, or a part of one, whose script is fetched when it is first opened, so that the opening screen is there sooner. */
export function late<Props extends object>(fetched: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  let known: ComponentType<Props> | null = null;
  return function Late(props: Props) {
    const [Screen, setScreen] = useState(() => known);
    const [trouble, setTrouble] = useState<Trouble | null>(null);
    const [tries, setTries] = useState(0);
    useEffect(() => {
      if (Screen) return;
      fetched().then(
        (screen) => {
          known = screen;
          setScreen(() => screen);
        },
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
  };
}
