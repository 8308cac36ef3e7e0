/**
 * A limit on the size of files (`ulimit -f`) ends a process by a signal where nobody listens for it;
 * with a listener the write fails instead, and is told like any other.
 */
export function outliveFileLimit(): void {
  process.on('SIGXFSZ', () => undefined)
}
