import { signal } from '@preact/signals';

/** Where the person is: the opening screen, or a stage of a job. It stands in the address, so reload and Back keep it. */
export type Route = { at: 'opening' } | { at: 'job'; id: string; stage: string };

const read = (): Route => {
  const [, place, id, stage] = location.hash.split('/');
  return place === 'job' && id ? { at: 'job', id: decodeURIComponent(id), stage: stage ?? 'stock' } : { at: 'opening' };
};

export const route = signal<Route>(read());
addEventListener('hashchange', () => {
  route.value = read();
});

/** The address of a stage of a job. */
export const jobAddress = (id: string, stage = 'stock') => `#/job/${encodeURIComponent(id)}/${stage}`;

export const OPENING = '#/';

export function go(address: string): void {
  location.hash = address;
}
