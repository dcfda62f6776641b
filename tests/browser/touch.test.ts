import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { walkDemo } from '../support/demo-walk';
import { PHONE, smallTargets } from '../support/targets';

const app = useApp();

test.runIf(process.env.SLOW)(
  'the whole demo job by touch alone, at 390 px: every target is 44 px, and whatever is dragged goes by single taps',
  {
    timeout: 480_000,
  },
  async () => {
    const page = await app.open(PHONE);
    await walkDemo(page, async () => {
      await expect.poll(() => smallTargets(page), { timeout: 10_000 }).toBe('');
    });
  },
);
