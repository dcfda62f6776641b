import type { Plugin } from 'vite';

/** OpenCV and highs ask for Node's modules in branches that a browser never enters: it gets empty ones, without a warning. */
export function withoutNode(): Plugin {
  const EMPTY = '\0no-node';
  return {
    name: 'waneline:no-node',
    enforce: 'pre',
    resolveId: (source) => (/^(fs|path|crypto|node:module)$/.test(source) ? EMPTY : undefined),
    load: (id) => (id === EMPTY ? 'export default {}' : undefined),
  };
}
