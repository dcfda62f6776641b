import vm from 'node:vm';
import type { Plugin } from 'vite';

const OPEN = 'return binaryDecode(';
const CLOSE = ')}function getBinarySync(file){return file}';
const INSTANTIATE = 'var instance=await WebAssembly.instantiate(binary,imports)';
const STREAMING = 'var instance=await WebAssembly.instantiateStreaming(fetch(binary),imports)';

/**
 * Lifts OpenCV's machine code out of its JavaScript string into a .wasm file of its own. The package ships both as one
 * 13 MB script; apart, the browser compiles the machine code while it loads, and a worker starts twice as fast.
 */
export function splitOpencvWasm(): Plugin {
  return {
    name: 'waneline:opencv-split',
    apply: 'build',
    enforce: 'pre',
    transform(code, id) {
      if (!/opencv\.js[\\/]dist[\\/]opencv\.js/.test(id) || id.includes('?commonjs')) return;
      const start = code.indexOf(OPEN);
      const end = code.indexOf(CLOSE);
      if (start < 0 || end < start || !code.includes(INSTANTIATE))
        this.error('opencv.js is laid out in a new way: pin 5.0.0-release.1 or mend splitOpencvWasm');
      const source = decode(vm.runInNewContext(code.slice(start + OPEN.length, end)));
      if (!WebAssembly.validate(source)) this.error('what was lifted out of opencv.js is not WebAssembly');
      const file = this.emitFile({ type: 'asset', name: 'opencv.wasm', source });
      const split = `${code.slice(0, start)}return import.meta.ROLLUP_FILE_URL_${file}${code.slice(end + 1)}`;
      return { code: split.replace(INSTANTIATE, STREAMING), map: null };
    },
  };
}

/** The inverse of the encoding in opencv.js: each byte is a character, and zero is 256 so that no NUL is in the text. */
function decode(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    bytes[i] = (~code >> 8) & code;
  }
  return bytes;
}
