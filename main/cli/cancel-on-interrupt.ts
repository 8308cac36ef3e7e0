import { COULD_NOT_BE_DONE } from './tell-failure.ts'

/** A signal that Ctrl+C gives, and how to stop listening for it. */
export interface Interrupt {
  readonly signal: AbortSignal
  release(): void
}

const SIGNALS = ['SIGINT', 'SIGTERM'] as const

/** The first Ctrl+C lets the work clean up after itself; a second one leaves at once. */
export function cancelOnInterrupt(): Interrupt {
  const controller = new AbortController()
  const interrupted = () => {
    if (controller.signal.aborted) process.exit(COULD_NOT_BE_DONE)
    controller.abort()
  }
  for (const signal of SIGNALS) process.on(signal, interrupted)
  return {
    signal: controller.signal,
    release() {
      for (const signal of SIGNALS) process.off(signal, interrupted)
    },
  }
}
