import { writeSync } from 'node:fs'

/** Writes all of some bytes at the end of an open file; the system may take them in pieces. */
export function writeWhole(handle: number, bytes: Uint8Array | Float32Array): void {
  const view = new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let at = 0; at < view.length;) at += writeSync(handle, view, at)
}
