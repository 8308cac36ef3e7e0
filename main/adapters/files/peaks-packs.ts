import { randomUUID } from 'node:crypto'
import { mkdir, open, readdir, rm, type FileHandle } from 'node:fs/promises'
import { join } from 'node:path'
import { AppError } from '../../../app/errors/app-error.ts'
import type { PeaksArchive, PeaksPlace } from '../../../app/ports/peaks-archive.ts'
import { isLeftBehind } from './left-behind.ts'
import { MARK_PATTERN, OWN_MARK } from './process-mark.ts'

/** A new pack is begun above this, so that a backup copies no old one again. */
const LARGEST_PACK_BYTES = 64 << 20
/** With the mark of the process that wrote it; those of before had none. */
const PACK_NAME = new RegExp(String.raw`^[0-9a-f-]{36}(?:\.${MARK_PATTERN})?\.peaks$`)

/**
 * Waveforms in append-only pack files of a folder. Each opened archive appends to packs of its own,
 * so that several processes can have the workshop open: packs are never shared for writing. One that has
 * appended removes, when it is closed, packs of ended processes that no record tells of any more: they
 * were killed before they could record them, or the same sounds have been read again since.
 *
 * @param packsOnRecord names of the packs that hold a waveform on record
 */
export function openPeaksPacks(
  folder: string,
  packsOnRecord: () => Promise<readonly string[]>,
): PeaksArchive & { close(): Promise<void> } {
  return new PeaksPacks(folder, packsOnRecord)
}

class PeaksPacks implements PeaksArchive {
  readonly #folder: string
  readonly #packsOnRecord: () => Promise<readonly string[]>
  #pack: { readonly name: string; readonly handle: FileHandle; sizeBytes: number } | undefined
  /** Appends run one after the other: their places depend on it. */
  #last: Promise<unknown> = Promise.resolve()

  constructor(folder: string, packsOnRecord: () => Promise<readonly string[]>) {
    this.#folder = folder
    this.#packsOnRecord = packsOnRecord
  }

  append(
    peaks: readonly { readonly sha256: string; readonly bytes: Uint8Array }[],
  ): Promise<readonly PeaksPlace[]> {
    const appended = this.#last.then(() => this.#append(peaks))
    this.#last = appended.catch(() => undefined)
    return appended
  }

  async #append(
    peaks: readonly { readonly sha256: string; readonly bytes: Uint8Array }[],
  ): Promise<PeaksPlace[]> {
    if (peaks.length === 0) return []
    try {
      const pack = await this.#openPack()
      let offsetBytes = pack.sizeBytes
      const places = peaks.map(({ sha256, bytes }) => {
        const place = { sha256, pack: pack.name, offsetBytes, lengthBytes: bytes.length }
        offsetBytes += bytes.length
        return place
      })
      await writeAll(pack.handle, Buffer.concat(peaks.map(({ bytes }) => bytes)), pack.sizeBytes)
      await pack.handle.datasync()
      pack.sizeBytes = offsetBytes
      return places
    } catch (error) {
      throw cannotKeep(this.#folder, error)
    }
  }

  async #openPack() {
    if (this.#pack !== undefined && this.#pack.sizeBytes < LARGEST_PACK_BYTES) return this.#pack
    const former = this.#pack
    this.#pack = undefined
    await former?.handle.close()
    await mkdir(this.#folder, { recursive: true })
    const name = `${randomUUID()}.${OWN_MARK}.peaks`
    this.#pack = { name, handle: await open(join(this.#folder, name), 'wx'), sizeBytes: 0 }
    return this.#pack
  }

  async #tidy(): Promise<void> {
    const left: string[] = []
    for (const name of await readdir(this.#folder)) {
      const processId = Number(PACK_NAME.exec(name)?.[1] ?? NaN)
      if (!Number.isNaN(processId) && (await isLeftBehind(join(this.#folder, name), processId)))
        left.push(name)
    }
    if (left.length === 0) return
    // Asked for after the look: what a process recorded that is gone by now is among it.
    const kept = new Set(await this.#packsOnRecord())
    for (const name of left) {
      if (!kept.has(name)) await rm(join(this.#folder, name), { force: true }).catch(() => {})
    }
  }

  async read({ pack, offsetBytes, lengthBytes }: PeaksPlace): Promise<Uint8Array> {
    if (!PACK_NAME.test(pack)) throw lost(pack)
    const bytes = new Uint8Array(lengthBytes)
    const handle = await open(join(this.#folder, pack), 'r').catch((error: unknown) => {
      throw lost(pack, error)
    })
    try {
      const { bytesRead } = await handle.read(bytes, 0, lengthBytes, offsetBytes)
      if (bytesRead < lengthBytes) throw lost(pack)
      return bytes
    } finally {
      await handle.close()
    }
  }

  async close(): Promise<void> {
    await this.#last
    if (this.#pack === undefined) return
    await this.#pack.handle.close()
    this.#pack = undefined
    // What cannot be tidied now is tidied by the next one that appends.
    await this.#tidy().catch(() => undefined)
  }
}

/** Written at its place, so that what a failed write left behind is written over by the next. */
async function writeAll(handle: FileHandle, bytes: Uint8Array, at: number): Promise<void> {
  for (let done = 0; done < bytes.length;) {
    const { bytesWritten } = await handle.write(bytes, done, bytes.length - done, at + done)
    done += bytesWritten
  }
}

function cannotKeep(folder: string, cause: unknown): AppError {
  const code = (cause as NodeJS.ErrnoException | null)?.code ?? ''
  const isFull = ['ENOSPC', 'EDQUOT', 'EFBIG'].includes(code)
  return new AppError(
    {
      code: isFull ? 'peaks/disk-full' : 'peaks/unwritable',
      what: isFull ? 'There is no room left for waveforms.' : 'Waveforms could not be written.',
      where: folder,
      mend: isFull
        ? 'Free some space, and scan again.'
        : 'Mend the permissions of the workshop, and scan again.',
      kind: 'machine',
    },
    { cause },
  )
}

function lost(pack: string, cause?: unknown): AppError {
  return new AppError(
    {
      code: 'peaks/lost',
      what: 'The stored waveform of this sound is gone or cut.',
      where: pack,
      mend: 'Scan the folder again; the sound itself is unchanged.',
      kind: 'machine',
    },
    cause === undefined ? undefined : { cause },
  )
}
