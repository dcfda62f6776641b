import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { type Trouble, TroubleNote, troubleOf } from '../parts/problem';
import type { StageProps } from './stage';

/** A screen whose script is fetched when it is first opened, so that the opening screen is there sooner. */
export function late(fetched: () => Promise<ComponentType<StageProps>>): ComponentType<StageProps> {
  let known: ComponentType<StageProps> | null = null;
  return function Late(props: StageProps) {
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
