/** The two ways to hand a job on, each with what goes along. */
export function ShareButton({ onFile, onCode }: { onFile(): void; onCode(): void }) {
  const choose = (then: () => void) => () => {
    document.getElementById('share')?.hidePopover();
    then();
  };
  return (
    <>
      <button type="button" class="button quiet" popovertarget="share">
        Share<span class="wide-only"> job</span>
      </button>
      <section id="share" class="from-head card" popover="auto" aria-label="Share job">
        <div class="stack">
          <button type="button" class="button" onClick={choose(onFile)}>
            As a file, with its photos
          </button>
          <button type="button" class="button" onClick={choose(onCode)}>
            As a code on this screen, without photos
          </button>
        </div>
      </section>
    </>
  );
}
