/** A limiter that takes more than this changes the sound's character (common practice, no source). */
export const MOST_LIMITING_DB = 6
