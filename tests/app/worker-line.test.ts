import { MessageChannel, type MessagePort } from 'node:worker_threads';
import * as Comlink from 'comlink';
import nodeEndpoint from 'comlink/dist/umd/node-adapter';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { WorkerLine } from '../../src/app/worker-line';
import { pause } from '../../src/search';
import { InputProblem } from '../../src/units';
import { type Answer, Calls, type Report } from '../../workers/answer';

/** A worker's far side without a thread: it counts to `n`, fails as it is told, or turns deaf. */
function workerSide(port: MessagePort) {
  let held = 0;
  const calls = new Calls(() => held > 100);
  const api = {
    stop: (id: number) => calls.stop(id),
    count: (id: number, n: number, report: Report): Promise<Answer<number>> =>
      calls.answer(id, report, async (control) => {
        if (n === 13) throw new InputProblem('Thirteen is refused.', '/n', 'Take another.');
        if (n === 99) throw new Error('out of memory');
        held += n;
        for (let i = 0; i < n; i++) await pause(control, i / n, `at ${i}`);
        return n;
      }),
    /** Never hears a stop. */
    deaf: (): Promise<Answer<number>> => new Promise(() => {}),
  };
  Comlink.expose(api, nodeEndpoint(port));
  return api;
}
type Api = ReturnType<typeof workerSide>;

const ports: MessagePort[] = [];
const workers: FakeWorker[] = [];

class FakeWorker extends EventTarget {
  ended = false;
  private readonly endpoint: ReturnType<typeof nodeEndpoint>;

  constructor() {
    super();
    const { port1, port2 } = new MessageChannel();
    workerSide(port2);
    this.endpoint = nodeEndpoint(port1);
    ports.push(port1, port2);
    workers.push(this);
  }

  postMessage(...args: Parameters<typeof this.endpoint.postMessage>): void {
    if (!this.ended) this.endpoint.postMessage(...args);
  }

  override addEventListener(...args: Parameters<EventTarget['addEventListener']>): void {
    if (args[0] === 'message') this.endpoint.addEventListener(args[0], args[1] as EventListener);
    else super.addEventListener(...args);
  }

  override removeEventListener(...args: Parameters<EventTarget['removeEventListener']>): void {
    if (args[0] === 'message') this.endpoint.removeEventListener(args[0], args[1] as EventListener);
    else super.removeEventListener(...args);
  }

  terminate(): void {
    this.ended = true;
  }
}

const open = () => new WorkerLine<Api>(() => new FakeWorker() as unknown as Worker);
const unheard = () => {};
const count = (line: WorkerLine<Api>, n: number, signal = new AbortController().signal, report: Report = unheard) =>
  line.call(signal, report, (api, id, tell) => api.count(id, n, tell));

afterEach(() => {
  for (const port of ports.splice(0)) port.close();
  workers.splice(0);
});

describe('the line to a worker', () => {
  it('carries an answer, and one worker serves many calls at once', async () => {
    const line = open();
    expect(await Promise.all([count(line, 3), count(line, 5)])).toEqual([3, 5]);
    expect(workers).toHaveLength(1);
  });

  it('brings a problem over whole, and the worker goes on', async () => {
    const line = open();
    const problem = await count(line, 13).catch((error) => error);
    expect(problem).toBeInstanceOf(InputProblem);
    expect(problem).toMatchObject({ message: 'Thirteen is refused.', where: '/n', mend: 'Take another.' });
    expect(await count(line, 2)).toBe(2);
    expect(workers).toHaveLength(1);
  });

  it('tells how far it is, never falling', async () => {
    const heard: number[] = [];
    await count(open(), 100, undefined, (fraction) => heard.push(fraction));
    expect(heard.length).toBeGreaterThan(0);
    expect(heard).toEqual([...heard].sort((a, b) => a - b));
  });

  it('tells nothing more once the call has ended, though a report comes late', async () => {
    const told: number[] = [];
    let late: Report = unheard;
    await open().call(
      new AbortController().signal,
      (fraction) => void told.push(fraction),
      (api, id, tell) => {
        late = tell;
        return api.count(id, 3, tell);
      },
    );
    const before = told.length;
    late(1, 'late');
    expect(told.length).toBe(before);
  });

  it('replaces a worker that had a fault of its own', async () => {
    const line = open();
    await expect(count(line, 99)).rejects.toThrow('out of memory');
    expect(workers[0]?.ended).toBe(true);
    expect(await count(line, 4)).toBe(4);
    expect(workers).toHaveLength(2);
  });

  it('fails every call of a worker that crashes, and opens a new one for the next', async () => {
    const line = open();
    const calls = [count(line, 1e6), count(line, 1e6)].map((call) => call.catch((error: Error) => error.message));
    workers[0]?.dispatchEvent(Object.assign(new Event('error'), { message: 'crashed' }));
    expect(await Promise.all(calls)).toEqual(['crashed', 'crashed']);
    expect(await count(line, 4)).toBe(4);
    expect(workers).toHaveLength(2);
  });

  it('stops a call when asked, with the reason that was given, and keeps the worker', async () => {
    const line = open();
    const abort = new AbortController();
    const call = count(line, 100, abort.signal);
    abort.abort(new Error('enough'));
    await expect(call).rejects.toThrow('enough');
    expect(await count(line, 0)).toBe(0);
    expect(workers).toHaveLength(1);
  });

  it('replaces a worker that does not hear the stop', async () => {
    const line = open();
    const abort = new AbortController();
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const call = line.call(abort.signal, unheard, (api) => api.deaf());
    abort.abort(new Error('enough'));
    vi.advanceTimersByTime(60_000);
    vi.useRealTimers();
    await expect(call).rejects.toThrow('enough');
    expect(workers[0]?.ended).toBe(true);
    expect(await count(line, 4)).toBe(4);
  });

  it('sends a call anew whose worker was replaced for the sake of another one', async () => {
    const line = open();
    const stopper = new AbortController();
    const deaf = line.call(stopper.signal, unheard, (api) => api.deaf());
    // Blocked behind the deaf one, as a report behind the report of the job before it: it answers only in a second worker.
    let sent = 0;
    const other = line.call(new AbortController().signal, unheard, (api, id, tell) =>
      ++sent === 1 ? api.deaf() : api.count(id, 3, tell),
    );
    stopper.abort(new Error('called off'));
    await expect(deaf).rejects.toThrow('called off');
    expect(await other).toBe(3);
    expect(workers.length).toBe(2);
    expect(workers[0]?.ended).toBe(true);
  });

  it('lets a worker go that holds too much, once its other calls have ended, and nobody notices', async () => {
    const line = open();
    const slow = count(line, 90);
    expect(await count(line, 20)).toBe(20);
    // What it holds is too much now: new work goes to a new worker, while the old one ends what it was given.
    expect(workers[0]?.ended).toBe(false);
    const next = count(line, 3);
    expect(workers).toHaveLength(2);
    expect(await slow).toBe(90);
    expect(workers[0]?.ended).toBe(true);
    expect(await next).toBe(3);
    expect(await count(line, 4)).toBe(4);
    expect(workers).toHaveLength(2);
    expect(workers[1]?.ended).toBe(false);
  });

  it('lets it go after a problem or a stop, too', async () => {
    const line = open();
    const abort = new AbortController();
    const stopped = count(line, 1e6, abort.signal);
    abort.abort(new Error('enough'));
    await expect(stopped).rejects.toThrow('enough');
    expect(workers[0]?.ended).toBe(true);
    expect(await count(line, 4)).toBe(4);
    expect(workers).toHaveLength(2);
  });

  it('does not start at all when it was called off before', async () => {
    const line = open();
    await expect(count(line, 4, AbortSignal.abort(new Error('never')))).rejects.toThrow('never');
    expect(workers).toHaveLength(0);
  });

  it('replaces a worker of which nothing is heard for five minutes, says so, and does not send the call again', async () => {
    const line = open();
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    let sent = 0;
    const calls = [1, 2].map(() =>
      line
        .call(new AbortController().signal, unheard, (api) => {
          sent++;
          return api.deaf();
        })
        .catch((error: unknown) => error),
    );
    vi.advanceTimersByTime(299_000);
    expect(workers[0]?.ended).toBe(false);
    vi.advanceTimersByTime(2000);
    vi.useRealTimers();
    for (const problem of await Promise.all(calls))
      expect(problem).toMatchObject({ name: 'InputProblem', message: expect.stringMatching(/for 5 minutes/) });
    expect(workers[0]?.ended).toBe(true);
    expect(sent).toBe(2);
    expect(await count(line, 4)).toBe(4);
  });

  it('waits as long as a worker tells how far it is', async () => {
    const line = open();
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    let tell: Report = unheard;
    const call = line.call(new AbortController().signal, unheard, (api, _, report) => {
      tell = report;
      return api.deaf();
    });
    call.catch(() => {});
    for (let minute = 0; minute < 20; minute++) {
      vi.advanceTimersByTime(60_000);
      tell(minute / 20);
    }
    expect(workers[0]?.ended).toBe(false);
    vi.advanceTimersByTime(301_000);
    vi.useRealTimers();
    await expect(call).rejects.toThrow('for 5 minutes');
  });

  it('does not send a call anew without end that hangs its worker each time', async () => {
    const line = open();
    let sent = 0;
    const hanging = line
      .call(new AbortController().signal, unheard, (api) => {
        sent++;
        return api.deaf();
      })
      .catch((error: unknown) => error);
    for (let i = 0; i < 3; i++) {
      vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
      const stopper = new AbortController();
      const other = line.call(stopper.signal, unheard, (api) => api.deaf());
      stopper.abort(new Error('enough'));
      vi.advanceTimersByTime(2000);
      vi.useRealTimers();
      await expect(other).rejects.toThrow('enough');
    }
    expect(await hanging).toMatchObject({ name: 'InputProblem', message: expect.stringMatching(/given up/) });
    expect(sent).toBe(3);
  });
});
