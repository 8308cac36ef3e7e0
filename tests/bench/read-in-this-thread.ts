import { readFileSync } from 'node:fs'
import { inspectSound } from '../../app/audio/inspect-sound.ts'
import type { Hasher } from '../../app/ports/bytes.ts'
import { newSha256 } from '../../main/adapters/files/new-sha256.ts'
import { openFileSource } from '../../main/workers/file-byte-source.ts'
import { openKernel } from '../../main/workers/open-kernel.ts'

// The measuring pass in one thread, with and without the hash of the whole file.
// usage: read-in-this-thread.ts LIST hashed|unhashed
const [list = '', mode] = process.argv.slice(2)
const kernel = openKernel()
const nothing: Hasher = { update: () => {}, digestHex: () => '' }
for (const line of readFileSync(list, 'utf8').trim().split('\n')) {
  const source = openFileSource(line.split('\t')[1] ?? '')
  // The first hasher that a pass asks for is the one of the whole file.
  let isFirst = mode === 'unhashed'
  const newHasher = () => {
    if (!isFirst) return newSha256()
    isFirst = false
    return nothing
  }
  inspectSound(source, { kernel, newHasher, cancel: () => {} })
  source.close()
}
