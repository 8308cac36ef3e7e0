import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'

/** SHA-256 of a file in hexadecimal, read piece by piece without holding up others. @throws what Node throws */
export async function sha256OfFile(path: string): Promise<string> {
  const hash = createHash('sha256')
  for await (const piece of createReadStream(path)) hash.update(piece as Uint8Array)
  return hash.digest('hex')
}
