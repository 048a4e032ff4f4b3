// Words for the names that stand in scores: phases, events, criteria, findings.
import type { CriterionName, PhaseName, ScoreEventCode, Severity } from '@stillprop/contracts';

export const PHASE_WORDS: Readonly<Record<PhaseName, string>> = {
  'take-off': 'Take-off',
  climb: 'Climb',
  delay: 'Delay',
  push: 'Push',
  turn: 'Turn',
  straight: 'Straight',
  align: 'Align',
  final: 'Final',
  flare: 'Flare',
  'roll-out': 'Roll-out',
};

export const EVENT_WORDS: Readonly<Record<ScoreEventCode, string>> = {
  'lift-off': 'lift-off',
  'power-lost': 'power lost',
  'first-action': 'first action',
  'push-complete': 'push complete',
  'bank-established': 'bank established',
  'turned-90': '90° turned',
  'turned-180': '180° turned',
  'wings-level': 'wings level',
  aligned: 'aligned',
  'gear-down': 'gear down',
  'flap-down': 'flap down',
  flare: 'flare',
  contact: 'contact',
  'last-contact': 'last contact',
  stopped: 'stopped',
};

export const CRITERION_ORDER: readonly CriterionName[] = ['delay', 'bank', 'airspeed', 'touchdown'];
export const CRITERION_WORDS: Readonly<Record<CriterionName, string>> = {
  delay: 'Delay',
  bank: 'Bank',
  airspeed: 'Airspeed',
  touchdown: 'Touchdown',
};

export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  fault: 'Fault',
  caution: 'Caution',
  note: 'Note',
};
