// The websocket to the debrief server: hello, live state about ten times a second, commands and their answers.
import { randomUUID } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import {
  ApiError,
  type BridgeAnswer,
  type BridgeHello,
  type BridgeMessage,
  type Heard,
  type LiveState,
  parseJson,
  ServerMessage,
  type StationCommand,
} from '@stillprop/contracts';
import { WebSocket } from 'ws';

const LIVE_EVERY_MS = 100;
const HEARD_EVERY_MS = 200;
/** An unchanged state is told this often, so that the server knows it still holds. */
const LIVE_AT_LEAST_EVERY_MS = 1000;
const MOST_UNSENT_BYTES = 256 * 1024;
const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 10_000;
/** A connection that lasted so long was taken by the server; one that ends sooner makes the next wait longer. */
const TAKEN_AFTER_MS = 2000;
/** Close code with which the server says that another bridge holds the name of this station. */
const NAME_TAKEN = 4001;
/** Close code with which the server says that it does not take this bridge (RFC 6455, 7.4.1). */
const REFUSED = 1008;
const NAME_TAKEN_WAIT_MS = 30_000;
const BEAT_MS = 5000;
const LARGEST_MESSAGE_BYTES = 1024 * 1024;
const LONGEST_REFUSAL = 2000;
const ANSWER_WITHIN_MS = 10_000;

export type Answer = Omit<BridgeAnswer, 'type' | 'id'>;

export interface ServerLinkOptions {
  readonly serverUrl: string;
  /** By which the server knows the station; null: none, as on one computer. */
  readonly token?: string | null;
  hello(): BridgeHello;
  live(): LiveState;
  /** What is heard while a link is taught; null: nothing listens for that. */
  heard(): Heard | null;
  command(command: StationCommand): Promise<Answer>;
  onConnected(): void;
  /** Another bridge holds the name of this station; false: this one does. */
  onNameTaken(taken: boolean): void;
  /** The server refuses this station, for its token or for want of one: its words; null: it takes it. */
  onTokenRefused?(why: string | null): void;
  log(line: string): void;
  /** How long to leave a bridge that holds the name in peace before asking for it again; half a minute if absent. */
  readonly nameTakenWaitMs?: number;
}

export interface ServerLink {
  /** The links have changed: the hello is told again. */
  helloAgain(): void;
  close(): void;
}

/** Keeps a connection to the server, for ever trying again; by its instance the server knows it from every other bridge. */
export function keepServerLink(options: ServerLinkOptions): ServerLink {
  const url = `${options.serverUrl.replace(/^http/, 'ws').replace(/\/+$/, '')}/ws/bridge`;
  const headers = { 'bridge-instance': randomUUID(), ...bearer(options.token) };
  let waitMs = FIRST_WAIT_MS;
  let closed = false;
  let socket: WebSocket | null = null;
  let retry: NodeJS.Timeout | undefined;

  const connect = () => {
    const current = new WebSocket(url, {
      headers,
      perMessageDeflate: false,
      maxPayload: LARGEST_MESSAGE_BYTES,
      handshakeTimeout: ANSWER_WITHIN_MS,
    });
    socket = current;
    let stop: () => void = () => undefined;
    current.on('unexpected-response', (_request, response) => {
      void refusalIn(response).then((why) => {
        if (response.statusCode === 401 || response.statusCode === 403) {
          options.onTokenRefused?.(why);
        }
        current.terminate();
      });
    });
    current.on('open', () => {
      const endTalk = talk(current, options);
      const taken = setTimeout(() => {
        waitMs = FIRST_WAIT_MS;
        options.onNameTaken(false);
        options.onTokenRefused?.(null);
      }, TAKEN_AFTER_MS);
      stop = () => {
        clearTimeout(taken);
        endTalk();
      };
      options.log(`connected to ${url}`);
      options.onConnected();
    });
    current.on('error', () => undefined); // a close follows, and with it the next try
    current.on('close', (code, reason) => {
      stop();
      if (closed) return;
      if (code === NAME_TAKEN) {
        options.log(`the server ended the connection: ${String(reason)}`);
        options.onNameTaken(true);
      }
      if (code === REFUSED) options.onTokenRefused?.(String(reason));
      const nextMs = code === NAME_TAKEN ? (options.nameTakenWaitMs ?? NAME_TAKEN_WAIT_MS) : waitMs;
      retry = setTimeout(connect, nextMs * (0.75 + 0.5 * Math.random()));
      waitMs = Math.min(LONGEST_WAIT_MS, waitMs * 2);
    });
  };
  connect();
  return {
    helloAgain: () => {
      if (socket?.readyState === WebSocket.OPEN) socket.send(JSON.stringify(options.hello()));
    },
    close: () => {
      closed = true;
      clearTimeout(retry);
      socket?.terminate();
    },
  };
}

/** The header by which the server knows a station. */
export function bearer(token: string | null | undefined): Record<string, string> {
  return token === null || token === undefined ? {} : { authorization: `Bearer ${token}` };
}

/** The sentence in an answer that says no; what comes beyond a screenful is not read. */
async function refusalIn(response: IncomingMessage): Promise<string> {
  let text = '';
  response.setEncoding('utf8').on('error', () => undefined);
  try {
    for await (const part of response) {
      text += part;
      if (text.length > LONGEST_REFUSAL) break;
    }
  } catch {
    // it broke off: what came is what there is
  }
  const parsed = parseJson(ApiError, text, 'answer');
  return parsed.ok ? parsed.value.message : `it answered ${response.statusCode}`;
}

/** Talks on an open socket. @returns What ends the talk. */
function talk(socket: WebSocket, options: ServerLinkOptions): () => void {
  const send = (message: BridgeMessage) => {
    if (socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
  };
  send(options.hello());
  let told = '';
  let toldMs = 0;
  const tellLive = () => {
    if (socket.bufferedAmount > MOST_UNSENT_BYTES) return; // a slow server gets the newest later, not all of them
    const live = options.live();
    const text = JSON.stringify(live);
    const now = performance.now();
    if (text === told && now - toldMs < LIVE_AT_LEAST_EVERY_MS) return;
    told = text;
    toldMs = now;
    send({ type: 'live', live });
  };
  tellLive();
  const liveTimer = setInterval(tellLive, LIVE_EVERY_MS);
  let heardIsTold = false;
  /** Thinned out: a person who compares numbers with a cockpit reads five a second at most. */
  const tellHeard = () => {
    const heard = options.heard();
    if ((heard === null && !heardIsTold) || socket.bufferedAmount > MOST_UNSENT_BYTES) return;
    heardIsTold = heard !== null;
    send({ type: 'heard', heard });
  };
  const heardTimer = setInterval(tellHeard, HEARD_EVERY_MS);
  let answered = true;
  socket.on('pong', () => {
    answered = true;
  });
  const beatTimer = setInterval(() => {
    if (!answered) socket.terminate(); // the way is dead though nobody said so
    answered = false;
    socket.ping();
  }, BEAT_MS);
  socket.on('message', (data) => {
    void answerTo(String(data), options).then((answer) => {
      tellLive(); // the page sees the new state no later than the answer
      if (answer !== null) send(answer);
    });
  });
  return () => {
    clearInterval(liveTimer);
    clearInterval(heardTimer);
    clearInterval(beatTimer);
  };
}

async function answerTo(text: string, { command, log }: ServerLinkOptions): Promise<BridgeAnswer | null> {
  const parsed = parseJson(ServerMessage, text, 'message');
  if (parsed.ok) return { type: 'answer', id: parsed.value.id, ...(await command(parsed.value.command)) };
  log(`a message of the server was not understood: ${parsed.problem.message}`);
  const id = idOf(text);
  return id === null ? null : { type: 'answer', id, ok: false, message: parsed.problem.message, attemptId: null };
}

/** The id of a message that is otherwise wrong, so that whoever waits for it gets its answer. */
function idOf(text: string): string | null {
  try {
    const { id } = JSON.parse(text) as { id?: unknown };
    return typeof id === 'string' ? id : null;
  } catch {
    return null;
  }
}
