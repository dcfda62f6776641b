import fc from 'fast-check';

/**
 * Random input is the same in every run, so that a change is judged by what it changed; `SLOW=1` and `FUZZ` draw anew each time, and a failure then
 * prints the seed that brings it back.
 */
if (!process.env.SLOW && !process.env.FUZZ) fc.configureGlobal({ seed: 20261126 });
