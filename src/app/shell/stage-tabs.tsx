import { useEffect, useRef } from 'preact/hooks';
import type { Job } from '../../job';
import { InputProblem } from '../../units';
import { jobAddress } from '../route';
import { STAGES } from '../stages';
import type { Stage, StageMark } from '../stages/stage';

/** The seven stages in the order of the work, each with a mark of what it has or lacks. */
export function StageTabs({ job, chosen }: { job: Job; chosen: string }) {
  const here = useRef<HTMLAnchorElement>(null);

  useEffect(() => here.current?.scrollIntoView({ inline: 'center', block: 'nearest' }), [chosen]);

  return (
    <nav class="stage-tabs" aria-label="Stages of the work">
      <ol>
        {STAGES.map(({ id, name, mark }) => {
          const { done, says } = marked(mark, job);
          const current = id === chosen;
          return (
            <li key={id}>
              <a
                href={jobAddress(job.id, id)}
                class="stage-tab"
                {...(current && { ref: here, 'aria-current': 'page' as const })}
              >
                <span class="stage-name">
                  <span class={done ? 'mark done' : 'mark'} aria-hidden="true">
                    {done ? '✓' : '○'}
                  </span>
                  {name}
                </span>
                <span class="stage-says">
                  {says}
                  <span class="hidden-text">{done ? ', complete' : ', something is missing'}</span>
                </span>
              </a>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

/** A stage's mark; what cannot be reckoned with is told by the stage itself, and keeps nobody from the others. */
function marked(mark: Stage['mark'], job: Job): StageMark {
  try {
    return mark(job);
  } catch (problem) {
    if (problem instanceof InputProblem) return { done: false, says: 'something to mend' };
    throw problem;
  }
}
