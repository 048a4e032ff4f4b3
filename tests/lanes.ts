// Which of these tests wait for real time, and therefore run one after another when the machine is free: `npm test` runs
// the others beside the packages' own tests. `npx vitest run --root tests` runs them all.

export const REAL_TIME = [
  'faults/**/*.test.ts',
  'links/**/*.test.ts',
  'end-to-end/{browser,demo,link,pilotErrors,planOnAllCores,serverGone}.test.ts',
];
