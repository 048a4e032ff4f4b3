// Which of these tests wait for real time, and therefore run one after another when the packages' own tests are done. The
// others run beside them, and give way. `npx vitest run --root tests` runs them all.

export const REAL_TIME = [
  'faults/**/*.test.ts',
  'links/**/*.test.ts',
  'end-to-end/{browser,demo,link,pilotErrors,planOnAllCores,serverGone}.test.ts',
];
