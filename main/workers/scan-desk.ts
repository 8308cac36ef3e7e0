import { hash } from 'node:crypto'
import type { HashedFile, WalkedTree } from '../../app/ports/library-files.ts'
import { asArchiveFault } from '../adapters/files/archive-faults.ts'
import { hashFile } from '../adapters/files/hash-file.ts'
import { walkRoot } from '../adapters/files/walk-root.ts'
import type { ZipArchive } from '../adapters/files/zip-archive.ts'
import { openFileSource, type OpenByteSource } from './file-byte-source.ts'
import type { OpenedArchive, ScanJob, ScanResults } from './scan-messages.ts'

interface Listeners {
  onSeen(files: number): void
  onHashed(index: number, hashed: HashedFile): void
}

interface Worked {
  readonly result: ScanResults[ScanJob['type']]
  readonly transfer: readonly ArrayBuffer[]
}

/** Does the jobs of one scan, and keeps the archives that it has open. */
export class ScanDesk {
  readonly #archives = new Map<number, { readonly zip: ZipArchive; readonly source: OpenByteSource | null }>()
  #lastArchive = 0
  #ahead: { readonly path: string; readonly tree: WalkedTree } | undefined

  async work(job: ScanJob, listeners: Listeners): Promise<Worked> {
    switch (job.type) {
      case 'walk-ahead':
        this.#ahead = { path: job.root.path, tree: walkRoot(job.root, null, listeners.onSeen) }
        return { result: null, transfer: [] }
      case 'walk': {
        const tree =
          this.#walkedAhead(job, listeners) ?? walkRoot(job.root, job.knownDigest, listeners.onSeen)
        return { result: tree, transfer: buffersOf(tree) }
      }
      case 'hash':
        for (const [index, file] of job.files.entries()) listeners.onHashed(index, hashFile(file))
        return { result: null, transfer: [] }
      case 'open':
        return { result: await this.#open(job.path, job.password), transfer: [] }
      case 'open-inner':
        return { result: await this.#openInner(job.archive, job.index, job.password), transfer: [] }
      case 'read': {
        const bytes = await this.#zip(job.archive).read(job.index, job.mostBytes)
        return { result: bytes, transfer: [bytes.buffer as ArrayBuffer] }
      }
      case 'hash-entry': {
        const bytes = await this.#zip(job.archive).read(job.index, job.mostBytes)
        return { result: { sha256: hash('sha256', bytes, 'hex'), sizeBytes: bytes.length }, transfer: [] }
      }
      case 'close':
        this.#archives.get(job.archive)?.source?.close()
        this.#archives.delete(job.archive)
        return { result: null, transfer: [] }
    }
  }

  /** What was walked ahead is told once: whoever asks again wants to know what is there by then. */
  #walkedAhead(
    { root, knownDigest }: ScanJob & { readonly type: 'walk' },
    { onSeen }: Listeners,
  ): WalkedTree | undefined {
    const ahead = this.#ahead
    this.#ahead = undefined
    if (ahead === undefined || ahead.path !== root.path) return undefined
    onSeen((ahead.tree.folders ?? []).reduce((sum, { names }) => sum + names.length, 0))
    return ahead.tree.digest === knownDigest ? { ...ahead.tree, folders: null } : ahead.tree
  }

  async #open(path: string, password: string | null): Promise<OpenedArchive> {
    // Loaded only where there is an archive: most libraries have none open.
    const { openZipFile } = await import('../adapters/files/open-zip-file.ts')
    let source: OpenByteSource | null = null
    try {
      source = openFileSource(path)
      return this.#keep(await openZipFile(source, password), source)
    } catch (error) {
      source?.close()
      throw asArchiveFault(error, false)
    }
  }

  async #openInner(archive: number, index: number, password: string | null): Promise<OpenedArchive> {
    return this.#keep(await this.#zip(archive).openInner(index, password), null)
  }

  #keep(zip: ZipArchive, source: OpenByteSource | null): OpenedArchive {
    const archive = ++this.#lastArchive
    this.#archives.set(archive, { zip, source })
    return { archive, entries: zip.entries }
  }

  #zip(archive: number): ZipArchive {
    const open = this.#archives.get(archive)
    if (open === undefined) throw new RangeError(`no archive ${archive} is open`)
    return open.zip
  }
}

function buffersOf({ folders }: WalkedTree): readonly ArrayBuffer[] {
  return (folders ?? []).flatMap(({ sizesBytes, modifiedNs, fileKeys }) =>
    [sizesBytes, modifiedNs, fileKeys].map((column) => column.buffer as ArrayBuffer),
  )
}
