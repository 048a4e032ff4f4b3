// What every transport of a link offers: messages in with their sender, bytes out, how it stands, and an end.

/** No sample is anywhere near this long. */
export const LARGEST_MESSAGE_BYTES = 16 * 1024;
/** Connections that a listening transport holds at a time: a simulator, and one that connects anew before the old one ends. */
export const MOST_CONNECTIONS = 4;
/** Unsent bytes of a connection beyond which the other side reads nothing any more. */
export const MOST_UNSENT_BYTES = 64 * 1024;

export type TransportRefusal =
  | 'sender-not-allowed'
  | 'too-large'
  | 'line-too-long'
  | 'too-many-connections'
  | 'origin-not-allowed'
  | 'wrong-path';

export interface TransportListener {
  /** One datagram, one websocket message or one line without its break. `sender` is the address it came from. */
  onMessage(bytes: Uint8Array, sender: string): void;
  /** A message or a connection was turned away. `about` is the sender's address, or the origin or path it named. */
  onRefused(code: TransportRefusal, about: string): void;
  /** What keeps it from working now and what to do, in words that follow the link's name; null: it is over. */
  onProblem(message: string | null): void;
  /** Something went wrong once, in words that follow the link's name. */
  onError(message: string): void;
}

/** A websocket tells the one from the other. */
export type MessageKind = 'text' | 'bytes';

export interface Transport {
  /** Where it listens (the port as bound), or where it connects to. */
  readonly address: { readonly host: string; readonly port: number };
  /** As a sentence for the log: `listens on …` or `connects to …`. */
  readonly where: string;
  /**
   * Sends over the connection that the newest message came over. @throws {Error} If there is none, or it takes nothing;
   * with words that follow the command's name.
   */
  send(bytes: Uint8Array, kind: MessageKind): void;
  /** Of a transport of datagrams alone: sends to an address at once; a failure goes to `onError`. */
  readonly sendTo?: (bytes: Uint8Array, host: string, port: number) => void;
  /** Connections open now; a transport of datagrams has none to tell. */
  connections(): number | null;
  close(): Promise<void>;
}
