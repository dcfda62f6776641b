import type { Page } from 'playwright';
import { expect } from 'vitest';

/** A node of the tree that a screen reader is given. */
interface Heard {
  readonly ignored: boolean;
  readonly role: string;
  readonly name: string;
  readonly description: string;
  readonly level: number;
}

/** What a person comes to one by one, out of its surroundings: its name is all that is known of it. */
const CONTROLS = [
  'button',
  'link',
  'textbox',
  'combobox',
  'checkbox',
  'slider',
  'spinbutton',
  'img',
  'image',
  'Application',
  'application',
  'region',
];
/** A name that says nothing by itself: a sign, one letter, or a figure that does not say of what. */
const SAYS_NOTHING = /^[^\p{L}]*$|^\p{L}$/u;

/**
 * A screen reader can make sense of what stands on a page: every control has a name that says what it is, headings follow each other without a
 * step left out, and every drawing says how it is worked, or is a picture with a name.
 */
export async function expectHeard(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send('Accessibility.getFullAXTree');
  await session.detach();
  const tree = nodes.map(
    ({ ignored, role, name, description, properties }): Heard => ({
      ignored,
      role: String(role?.value ?? ''),
      name: String(name?.value ?? '').trim(),
      description: String(description?.value ?? '').trim(),
      level: Number(properties?.find((one) => one.name === 'level')?.value.value ?? 0),
    }),
  );
  const heard = tree.filter(({ ignored }) => !ignored);
  expect(heard.length).toBeGreaterThan(10);
  const unnamed = heard.filter(({ role, name }) => CONTROLS.includes(role) && SAYS_NOTHING.test(name));
  expect(unnamed).toEqual([]);
  const drawings = heard.filter(({ role }) => role.toLowerCase() === 'application');
  expect(drawings.filter(({ description }) => !description.includes('arrow keys'))).toEqual([]);
  const levels = heard.filter(({ role }) => role === 'heading').map(({ level }) => level);
  expect(levels[0]).toBe(1);
  expect(levels.filter((level, i) => level > (levels[i - 1] ?? 1) + 1)).toEqual([]);
  // What is painted is seen only: where it stands there is a drawing to be worked by keys, or a picture with a name.
  const bare = await page
    .locator('canvas')
    .evaluateAll(
      (all) => all.filter((one) => !one.closest('[role=application], [role=img], [aria-hidden=true]')).length,
    );
  expect(bare).toBe(0);
}
