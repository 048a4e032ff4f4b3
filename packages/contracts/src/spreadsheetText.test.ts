// What a spreadsheet could take for a formula gets an apostrophe; what it could not stays as it is.
import { expect, test } from 'vitest';
import { spreadsheetText } from './index.js';

test.each([
  ['=1+1'],
  ['+49 30'],
  ['-2+3'],
  ['-12.5'],
  ['@SUM(A1)'],
  ['\t=1'],
  ['\tindented'],
  ['\r=1'],
  ['\nsecond'],
  [' =1'],
  ['\u00a0=1'],
  ['"=1'],
  ['"" =1'],
  ['","=1'],
  [';=1'],
  ['\uff1d1'],
  ['\uff0b1'],
  ['\uff0d1'],
  ['\uff20x'],
])('%j gets an apostrophe', (text) => {
  expect(spreadsheetText(text)).toBe(`'${text}`);
});

test.each([[''], ['Ada Finch'], ["O'Hara"], ['"quoted"'], ['a=b'], ['12.5'], ['Vale-Reed'], ["'=1"], ['two\n=lines']])(
  '%j stays as it is',
  (text) => {
    expect(spreadsheetText(text)).toBe(text);
  },
);
