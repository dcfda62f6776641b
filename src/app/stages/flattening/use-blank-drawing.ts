import { useEffect, useRef, useState } from 'preact/hooks';
import type { Section, StandingWood } from '../../../flattening';
import type { Affine, Segment } from '../../../geometry';
import type { Strip } from '../../../job';
import type { BlankReport } from '../../../plan';
import type { JobStore } from '../../store';
import { solverWork } from '../../work';

const QUIET = () => {};

/** The blank from the side along a line; the last one known while a new one is drawn. Null until there is one. */
export function useSection(
  store: JobStore,
  strip: Strip | undefined,
  blank: BlankReport | undefined,
  line: Segment<'face'> | null,
): Section | null {
  const [shown, setShown] = useState<{ of: string; section: Section | null } | null>(null);
  const asked = useRef<(() => Promise<void>) | null>(null);
  const busy = useRef(false);
  const flat = blank?.flattening;
  useEffect(() => {
    if (!strip || !blank || !flat || !line) return;
    asked.current = async () => {
      const section = await solverWork.call(new AbortController().signal, QUIET, (api, id, tell) =>
        api.section(id, store.job.peek(), strip, flat, line, tell),
      );
      setShown({ of: blank.id, section });
    };
    // One call at a time: while a line is dragged the next one asks for where it is by then.
    const work = async () => {
      if (busy.current) return;
      busy.current = true;
      for (let next = asked.current; next; next = asked.current) {
        asked.current = null;
        // A worker that was restarted is asked again with the next line.
        await next().catch(QUIET);
      }
      busy.current = false;
    };
    void work();
  }, [store, strip, flat, line]);
  return blank && shown?.of === blank.id ? shown.section : null;
}

/** What a blank's passes take off, place by place, with the way back to the face that is up. */
export interface Standing {
  readonly wood: StandingWood;
  readonly toUp: Affine<'face', 'face'>;
}

/** Null until it is known, and without readings. */
export function useStanding(
  store: JobStore,
  strip: Strip | undefined,
  blank: BlankReport | undefined,
): Standing | null {
  const [shown, setShown] = useState<{ of: unknown; standing: Standing | null } | null>(null);
  const flat = blank?.flattening;
  useEffect(() => {
    if (!strip || !flat) return;
    const stopper = new AbortController();
    solverWork
      .call(stopper.signal, QUIET, (api, id, tell) => api.standing(id, store.job.peek(), strip, flat, tell))
      .then((standing) => setShown({ of: flat, standing }))
      .catch(QUIET);
    return () => stopper.abort();
  }, [store, strip, flat]);
  return shown && shown.of === flat ? shown.standing : null;
}
