// What measuring the four criteria of a recording costs against only parsing its JSON: the score without any modelled flight.
import { readRecording } from '@stillprop/contracts';
import { type Ratio, timeRatio } from '../../../.tools/sideBySide.js';
import { flownRecordingText } from '../../../tests/support/flownRecording.js';
import { attemptOf } from './attempt.js';
import { airspeedCriterion } from './criteria/airspeed.js';
import { bankCriterion } from './criteria/bank.js';
import { delayCriterion } from './criteria/delay.js';
import { touchdownCriterion } from './criteria/touchdown.js';

const CRITERIA = [delayCriterion, bankCriterion, airspeedCriterion, touchdownCriterion];

export default function measuring(): Ratio[] {
  const text = flownRecordingText();
  const read = readRecording(text);
  if (!read.ok) throw new Error(read.problem.message);
  const { recording } = read;
  const parseOnly = () => {
    let lines = 0;
    for (const line of text.split('\n')) if (line !== '' && typeof JSON.parse(line) === 'object') lines += 1;
    return lines;
  };
  const measured = () => {
    const attempt = attemptOf(recording);
    return CRITERIA.reduce((sum, criterion) => sum + (criterion(attempt).score ?? 0), 0);
  };
  return [
    {
      name: 'measuring the four criteria / parsing the JSON',
      ratio: timeRatio(measured, parseOnly),
      goal: 1.5,
      better: 'lower',
    },
  ];
}
