import fc from 'fast-check';
import { expect, test } from 'vitest';
import { attemptPath, attemptsPath, routeOf } from './routes.js';

const at = (path: string) => routeOf(new URL(path, 'http://127.0.0.1'));

test.each([
  ['/', { page: 'fly' }],
  ['/fly', { page: 'fly' }],
  ['/fly/', { page: 'fly' }],
  ['/debrief', { page: 'attempts', before: null }],
  ['/debrief?before=abc', { page: 'attempts', before: 'abc' }],
  ['/debrief/0b7e', { page: 'attempt', attemptId: '0b7e' }],
  ['/compare/x', { page: 'unknown', path: '/compare/x' }],
  ['/debrief/a/b', { page: 'unknown', path: '/debrief/a/b' }],
  ['/debrief/%E0%A4%A', { page: 'unknown', path: '/debrief/%E0%A4%A' }],
])('%s leads to %o', (path, route) => {
  expect(at(path)).toEqual(route);
});

test('the path of an attempt or of a page of the list leads back to it, whatever its name holds', () => {
  fc.assert(
    fc.property(
      fc.string({ minLength: 1 }).filter((text) => text !== '.' && text !== '..'),
      (text) => {
        expect(at(attemptPath(text))).toEqual({ page: 'attempt', attemptId: text });
        expect(at(attemptsPath(text))).toEqual({ page: 'attempts', before: text });
      },
    ),
  );
});
