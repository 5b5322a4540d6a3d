/** What the command line may touch, handed in from the edge so that every command can be tried in process. */
export interface Io {
  /** Writes to the standard output, no line end added. */
  out(text: string): void;
  /** Writes to the standard error, no line end added. */
  err(text: string): void;
  /** Everything on the standard input. */
  input(): Promise<string>;
  /** Asks a person, `hidden`: what they type is not shown; undefined where nobody is at a terminal. */
  readonly ask: ((question: string, hidden?: boolean) => Promise<string>) | undefined;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The home folder. */
  readonly home: string;
  /** Today where the owner is. */
  today(): string;
  /** Milliseconds since 1970. */
  clock(): number;
  /** A number in [0, 1), for the ids of new entries. */
  random(): number;
  /** Settles when the program is asked to end. */
  ended(): Promise<void>;
  /** Where the built page lies, if it was built. */
  readonly webFolder: string | undefined;
}
