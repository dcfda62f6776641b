/** How many random inputs a slow property is held to: all under `SLOW=1`, half of them in CI's 15 minutes. */
export const runs = (all: number): number => (process.env.SLOW ? all : Math.ceil(all / 2));
