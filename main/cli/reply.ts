/** What a command came to. */
export interface Reply {
  /** The one JSON document of `--json`. */
  readonly document: unknown
  /** The same for people; may be several lines. */
  readonly text: string
  /** False where it is done and something does not hold: exit code 1. */
  readonly holds: boolean
  /** True where nothing of what was given could be used: exit code 2. */
  readonly unusable?: boolean
}

/** A reply in which nothing can fail to hold. */
export function reply(document: unknown, text: string): Reply {
  return { document, text, holds: true }
}
