import { COULD_NOT_BE_DONE } from './tell-failure.ts'

/** The first Ctrl+C lets the work clean up after itself; a second one leaves at once. */
export function cancelOnInterrupt(): AbortSignal {
  const controller = new AbortController()
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.on(signal, () => {
      if (controller.signal.aborted) process.exit(COULD_NOT_BE_DONE)
      controller.abort()
    })
  }
  return controller.signal
}
