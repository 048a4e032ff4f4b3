// What `fly` and `plan` start from: a request that someone wrote, or a moment of a recording.
import { type PlanQuestions, PlanRequest, parseJson, readRecording, Technique } from '@stillprop/contracts';
import type { FlightStart, FlyRequest } from '@stillprop/physics';
import { recordedMoment } from '@stillprop/scoring';
import type { z } from 'zod';
import { accept, BadInput, numberOption, readInput, readJsonInput } from './badInput.js';

export interface DepartureOptions {
  /** File of a recording. */
  readonly from?: string;
  /** Seconds of the recording. */
  readonly at?: string;
  /** File of a technique to fly instead. */
  readonly technique?: string;
}

/** The recorded moment an answer starts from. */
export interface RecordedFrom {
  /** As it was named. */
  readonly recording: string;
  readonly attemptId: string;
  /** Simulator seconds. */
  readonly timeS: number;
  readonly start: FlightStart;
}

export interface Departure {
  readonly request: FlyRequest;
  readonly questions: z.output<typeof PlanQuestions>;
  /** null: the modelled climb. */
  readonly from: RecordedFrom | null;
}

/** @throws {BadInput} If neither or both are given, or either cannot be used. */
export function readDeparture(path: string | undefined, options: DepartureOptions): Departure {
  if (path === undefined && options.from === undefined)
    throw new BadInput('a request is missing: name its file, or a recording with --from');
  if (path !== undefined && options.from !== undefined)
    throw new BadInput(`${path} and --from cannot both be given: a recording brings its own request`);
  if (options.at !== undefined && options.from === undefined)
    throw new BadInput('--at needs a recording, given with --from');
  const found =
    options.from === undefined
      ? writtenDeparture(readInput(path as string), path === '-' ? 'the input' : (path as string))
      : recorded(options.from, options.at);
  if (options.technique === undefined) return found;
  const technique = readJsonInput(Technique, options.technique);
  return { ...found, request: { ...found.request, technique } };
}

/** A request from its text; `whole` names it. @throws {BadInput} */
export function writtenDeparture(text: string, whole: string): Departure {
  const { plan: questions = {}, ...request } = accept(parseJson(PlanRequest, text, whole));
  return { request, questions, from: null };
}

function recorded(path: string, at: string | undefined): Departure {
  const atS = at === undefined ? undefined : numberOption('--at', at, 0, 1e9);
  const read = readRecording(readInput(path));
  if (!read.ok) throw new BadInput(`${path}: ${read.problem.message}`);
  const found = recordedMoment(read.recording, atS);
  if (!found.ok) throw new BadInput(`${path}: ${found.why}`);
  const { timeS, start, request } = found.moment;
  const { attemptId } = read.recording.header;
  return { request, questions: {}, from: { recording: path, attemptId, timeS, start } };
}

/** The answer of the physics, its refusal turned into ours. */
export function answered<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw ours(error);
  }
}

/** As {@link answered}, of an answer that takes its time. */
export async function answeredLater<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    throw ours(error);
  }
}

function ours(error: unknown): unknown {
  return error instanceof RangeError ? new BadInput(error.message) : error;
}
