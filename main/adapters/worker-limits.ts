/**
 * Room for young garbage in each worker, in MiB. Most of what a worker makes is soon gone: more room
 * makes nothing faster, and is memory that a scan of a hundred thousand sounds would hold.
 */
export const WORKER_LIMITS = { maxYoungGenerationSizeMb: 8 }

/** The same for a process as a whole, as V8 is told it; the launcher tells Node so. */
export const YOUNG_GARBAGE_FLAGS = '--max-semi-space-size=2'
