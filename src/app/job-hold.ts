import { effect } from '@preact/signals';
import type { JobStore } from './store';

/** What tabs that show one job tell each other. */
type Word = 'saved' | 'hand it over';

/** The tab that edits has this long to hand the job over, ms, before it is taken for hung. */
const PATIENCE = 2000;

/**
 * Which of the tabs that show a job edits it: the one that holds the job's lock. The others follow what it saves, and the first of them
 * edits when it is closed or breaks. Where the browser knows no locks, each edits, and the shelf alone keeps one from writing over the other.
 */
export class JobHold {
  private readonly name: string;
  private readonly channel: BroadcastChannel;
  /** Lets the lock go; null where it is not held. */
  private letGo: (() => void) | null = null;
  private waiting = new AbortController();
  private closed = false;
  private readonly ends: () => void;

  constructor(private readonly store: JobStore) {
    this.name = `waneline/${store.id}`;
    this.channel = new BroadcastChannel(this.name);
    this.channel.onmessage = ({ data }: MessageEvent<Word>) => void this.hear(data);
    this.ends = effect(() => {
      if (store.saveState.value === 'saved' && this.letGo) this.say('saved');
    });
  }

  /** Resolves once it is known whether this tab edits or follows. */
  async begin(): Promise<void> {
    if (!navigator.locks) return;
    if (!(await this.ask({ ifAvailable: true }))) this.follow();
  }

  /** Takes the job over from the tab that edits it. */
  async take(): Promise<void> {
    if (this.letGo || this.closed) return;
    this.waiting.abort();
    this.say('hand it over');
    if (await this.ask({ signal: AbortSignal.timeout(PATIENCE) })) return;
    // It is hung, or its page is frozen.
    await this.ask({ steal: true });
  }

  /** Lets others edit. */
  close(): void {
    this.closed = true;
    this.ends();
    this.waiting.abort();
    this.channel.close();
    // What is being written is not cut off from its lock.
    void this.store.save().then(() => this.letGo?.());
  }

  private say(word: Word): void {
    this.channel.postMessage(word);
  }

  private async hear(word: Word): Promise<void> {
    if (word === 'saved') {
      if (!this.letGo) await this.store.readAgain();
    } else if (this.letGo) {
      await this.store.save();
      this.letGo();
    } else if (this.store.role.peek() === 'follows') {
      // Whoever asks for it goes before those who only wait.
      this.follow();
    }
  }

  private follow(): void {
    this.store.role.value = 'follows';
    this.waiting.abort();
    this.waiting = new AbortController();
    if (!this.closed) void this.ask({ signal: this.waiting.signal });
  }

  /** Asks for the lock, and edits when it has it. @returns whether it came to that */
  private ask(options: LockOptions): Promise<boolean> {
    return new Promise((answer) => {
      const held = async (lock: Lock | null): Promise<void> => {
        if (!lock || this.closed) return answer(false);
        const free = new Promise<void>((resolve) => {
          this.letGo = resolve;
        });
        await this.store.readAgain();
        this.store.role.value = 'edits';
        answer(true);
        await free;
      };
      const lost = (): void => {
        answer(false);
        const had = this.letGo !== null;
        this.letGo = null;
        if (had) this.follow();
      };
      navigator.locks.request(this.name, options, held).then(lost, lost);
    });
  }
}
