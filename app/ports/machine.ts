/** Time, chance and names as the use cases need them; fixed ones in tests. */
export interface Clock {
  /** ISO 8601, UTC, whole seconds: `2026-11-25T09:30:00Z`. */
  now(): string
}

export interface NewId {
  /** A UUID of version 7: sorts by time. */
  (): string
}
