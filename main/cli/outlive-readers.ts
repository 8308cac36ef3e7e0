/**
 * Whoever reads our output may stop reading, as `head` does: what is under way then goes on to its
 * end, unheard. Any other fault of the streams is a fault still.
 */
export function outliveReaders(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error
    })
  }
}
