// The debrief server's answers as typed data: the only place where the pages read anything from outside.
import './zodWithoutEval.js';
import {
  ApiError,
  AttemptDetail,
  AttemptList,
  BrowserMessage,
  Comparable,
  Comparison,
  NoteList,
  Progress,
  parse,
  parseJson,
  ScenarioChoice,
  StationAnswer,
  type StationRequest,
  type StudentOrder,
  Trace,
  TrackImportAnswer,
  type TrackImportRequest,
} from '@stillprop/contracts';
import { z } from 'zod';

/** Why a call gave no usable answer. */
export class ApiFailure extends Error {
  constructor(
    readonly kind: 'unreachable' | 'missing' | 'refused' | 'unreadable',
    message: string,
    /** The server's code, if it gave one. */
    readonly code: string | null = null,
  ) {
    super(message);
  }
}

export const getScenarios = (signal?: AbortSignal) => ask(z.array(ScenarioChoice), '/api/scenarios', signal);

/** @param before Where a page begins: `next` of the page before it; null: the newest. */
export function getAttempts(limit: number, before: string | null, signal?: AbortSignal): Promise<AttemptList> {
  const query = new URLSearchParams({ limit: String(limit), ...(before === null ? {} : { before }) });
  return ask(AttemptList, `/api/attempts?${query}`, signal);
}

export const getComparable = (signal?: AbortSignal) => ask(z.array(Comparable), '/api/compare', signal);

export type CompareChoice = Pick<Comparable, 'scenarioId' | 'rubricId' | 'rubricRevision'>;

export interface StudentsPage {
  readonly order: StudentOrder;
  readonly downwards: boolean;
  readonly limit: number;
  /** From 1. */
  readonly page: number;
}

/** @param filter As the query of the route has it. */
export const getComparison = (
  choice: CompareChoice,
  filter: Readonly<Record<string, string>>,
  page: StudentsPage,
  signal?: AbortSignal,
) => ask(Comparison, `/api/compare/students?${queryOf({ ...choice, ...filter, ...page })}`, signal);

export const getProgress = (
  choice: CompareChoice,
  filter: Readonly<Record<string, string>>,
  student: string,
  signal?: AbortSignal,
) => ask(Progress, `/api/compare/progress?${queryOf({ ...choice, ...filter, student })}`, signal);

/** A page of a student's attempts at one scenario by one revision of a rubric, newest first. */
export const getStudentAttempts = (
  choice: CompareChoice,
  filter: Readonly<Record<string, string>>,
  student: string,
  page: { readonly limit: number; readonly before: string | null },
  signal?: AbortSignal,
) => {
  const { limit, before } = page;
  const query = queryOf({ ...choice, ...filter, student, limit, ...(before === null ? {} : { before }) });
  return ask(AttemptList, `/api/attempts?${query}`, signal);
};

function queryOf(fields: Readonly<Record<string, string | number | boolean>>): URLSearchParams {
  return new URLSearchParams(Object.entries(fields).map(([name, value]) => [name, String(value)]));
}

export const getAttempt = (attemptId: string, signal?: AbortSignal) =>
  ask(AttemptDetail, `/api/attempts/${encodeURIComponent(attemptId)}`, signal);

export const getTrace = (attemptId: string, maxPoints: number, signal?: AbortSignal) =>
  ask(Trace, `/api/attempts/${encodeURIComponent(attemptId)}/trace?maxPoints=${maxPoints}`, signal);

export const importLog = (request: z.input<typeof TrackImportRequest>) =>
  ask(TrackImportAnswer, '/api/imports', undefined, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(request),
  });
/** Where the notes to an attempt are. */
export const notesPath = (attemptId: string) => `/api/attempts/${encodeURIComponent(attemptId)}/notes`;

export const getNotes = (attemptId: string, signal?: AbortSignal) => ask(NoteList, notesPath(attemptId), signal);

export const sendCommand = (station: string, request: z.input<typeof StationRequest>) =>
  ask(StationAnswer, `/api/stations/${encodeURIComponent(station)}/commands`, undefined, withBody('POST', request));

export const withBody = (method: string, body: unknown): RequestInit => ({
  method,
  headers: { 'content-type': 'application/json' },
  body: JSON.stringify(body),
});

/** A message of the live feed; null: not one of ours. */
export function readBrowserMessage(data: unknown): BrowserMessage | null {
  if (typeof data !== 'string') return null;
  const parsed = parseJson(BrowserMessage, data, 'message');
  return parsed.ok ? parsed.value : null;
}

export async function ask<T extends z.ZodType>(
  schema: T,
  path: string,
  signal?: AbortSignal,
  init: RequestInit = {},
): Promise<z.output<T>> {
  let response: Response;
  let body: unknown;
  try {
    response = await fetch(path, { ...init, ...(signal ? { signal } : {}) });
    body = await response.json();
  } catch (error) {
    if (signal?.aborted) throw error;
    throw new ApiFailure('unreachable', 'The debrief server does not answer.');
  }
  if (!response.ok) {
    const refused = parse(ApiError, body, 'answer');
    const message = refused.ok ? refused.value.message : `The debrief server answered with status ${response.status}.`;
    const code = refused.ok ? refused.value.code : null;
    throw new ApiFailure(response.status === 404 ? 'missing' : 'refused', message, code);
  }
  const parsed = parse(schema, body, 'answer');
  if (!parsed.ok)
    throw new ApiFailure('unreadable', `The debrief server's answer cannot be read: ${parsed.problem.message}.`);
  return parsed.value;
}
