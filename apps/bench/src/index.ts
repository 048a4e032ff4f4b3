// Public names of the stand-in simulator.
export { NO_FAULTS, type WireFaults } from './faultyWire.js';
export { PILOTS } from './habits.js';
export { StandInFlight, TICK_S } from './standInFlight.js';
export { type Bench, type BenchOptions, startBench } from './startBench.js';
