import type { Cv } from '../../src/photo';

/** How long OpenCV itself has run. */
export interface OpencvClock {
  /** ms spent inside OpenCV's own code since the start; what a call calls is not counted twice. */
  spent(): number;
}

type Call = (this: unknown, ...args: unknown[]) => unknown;

/** Puts a clock on every function, and every method of every class, of an OpenCV handle. Once a process: it stays on. */
export function clockOpencv(cv: Cv): OpencvClock {
  let [total, depth, began] = [0, 0, 0];
  const timed = (call: Call): Call => {
    const clocked: Call = function (...args) {
      if (depth++ === 0) began = performance.now();
      try {
        return call.apply(this, args);
      } finally {
        if (--depth === 0) total += performance.now() - began;
      }
    };
    // Embind keeps the variants of an overloaded function on it.
    return Object.assign(clocked, call);
  };
  const put = (on: Record<string, unknown>, name: string) => {
    const { value, writable } = Object.getOwnPropertyDescriptor(on, name) ?? {};
    if (typeof value === 'function' && writable) on[name] = timed(value as Call);
  };
  const handle = cv as unknown as Record<string, { prototype?: object } | undefined>;
  for (const name of Object.keys(handle)) {
    const methods = handle[name]?.prototype;
    const isClass = methods && 'isAliasOf' in methods;
    // A class is called with `new`, and its maker is short; its methods are where the time goes.
    if (isClass) for (const method of Object.getOwnPropertyNames(methods)) put(methods as never, method);
    else if (/^[a-z]/.test(name) && !/^(dyn|run|stack|call|add|get[A-Z].*Ptr)/.test(name)) put(handle as never, name);
  }
  return { spent: () => total };
}
