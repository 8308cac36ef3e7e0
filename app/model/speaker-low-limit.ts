/**
 * The lowest frequency that a hilt's speaker may be said to give, in Hz. None begins above the most:
 * whoever says more has its highest frequency in mind (common practice, no source).
 */
export const SPEAKER_LOW_LIMIT_HZ = { least: 20, most: 2000 } as const
