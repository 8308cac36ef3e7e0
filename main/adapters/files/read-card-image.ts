import { readBootLabel } from '../../../app/cards/read-boot-label.ts'
import type { CardIdentity, CardReading, ImageStretch } from '../../../app/model/card-reading.ts'
import type { ByteSource, CancelCheck } from '../../../app/ports/bytes.ts'
import { FatFault, openFatVolume, type FatName, type FatVolume } from './fat-volume.ts'
import { newSha256 } from './new-sha256.ts'

const DEEPEST = 64
/** Damaged folders can hold each other without end: no card of sounds has so many names. */
const MOST_NAMES = 300_000
const LARGEST_TEXT_BYTES = 256 << 10

type FoundFile = CardReading['files'][number]

/** Label and small texts of an image. A volume that cannot be read has neither. */
export async function identifyImage(image: ByteSource): Promise<CardIdentity> {
  const texts: { path: string; text: string }[] = []
  try {
    const volume = await openFatVolume(image)
    for (const { name, isFolder, sizeBytes } of volume.list('')) {
      if (isFolder || sizeBytes > LARGEST_TEXT_BYTES || !/\.txt$/i.test(name)) continue
      const pieces: Buffer[] = []
      volume.readFile(name, (bytes) => pieces.push(Buffer.from(bytes)))
      texts.push({ path: name, text: Buffer.concat(pieces).toString('utf8') })
    }
    volume.close()
  } catch (error) {
    if (!(error instanceof FatFault)) throw error
  }
  return { kind: 'image', label: readBootLabel(image), texts }
}

/**
 * Every file of an image through the independent library, depth first in directory order, and the
 * hashes of stretches of its raw bytes.
 *
 * @param onBytes called with the bytes of files read so far and the file at hand
 */
export async function readCardImage(
  image: ByteSource,
  stretches: readonly ImageStretch[],
  onBytes: (done: number, path: string) => void,
  cancel: CancelCheck,
): Promise<CardReading> {
  const files: FoundFile[] = []
  const faults: string[] = []
  try {
    const volume = await openFatVolume(image)
    new Reading(volume, files, faults, onBytes, cancel, 2 * image.sizeBytes).folder('', 0)
    volume.close()
  } catch (error) {
    if (!(error instanceof FatFault)) throw error
    faults.push(error.message)
  }
  return { files, faults, stretchHashes: stretches.map((stretch) => hashStretch(image, stretch, cancel)) }
}

class Reading {
  readonly #volume: FatVolume
  readonly #files: FoundFile[]
  readonly #faults: string[]
  readonly #onBytes: (done: number, path: string) => void
  readonly #cancel: CancelCheck
  readonly #mostBytes: number
  #done = 0
  #names = 0

  constructor(
    volume: FatVolume,
    files: FoundFile[],
    faults: string[],
    onBytes: (done: number, path: string) => void,
    cancel: CancelCheck,
    mostBytes: number,
  ) {
    this.#mostBytes = mostBytes
    this.#volume = volume
    this.#files = files
    this.#faults = faults
    this.#onBytes = onBytes
    this.#cancel = cancel
  }

  folder(path: string, depth: number): void {
    if (depth > DEEPEST)
      throw new FatFault(`/${path} is deeper than any card of sounds: the folders are damaged.`)
    for (const found of this.#volume.list(path)) {
      this.#cancel()
      if (this.#isWithoutEnd()) return
      const below = path === '' ? found.name : `${path}/${found.name}`
      try {
        if (found.isFolder) this.folder(below, depth + 1)
        else this.#file(below, found)
      } catch (error) {
        if (!(error instanceof FatFault)) throw error
        this.#faults.push(error.message)
      }
    }
  }

  /** Whether more was named or read than the image can hold; told once. */
  #isWithoutEnd(): boolean {
    const isWithoutEnd = ++this.#names > MOST_NAMES || this.#done > this.#mostBytes
    const fault = 'The folders hold each other without end: they are damaged, and the rest was not read.'
    if (isWithoutEnd && this.#faults.at(-1) !== fault) this.#faults.push(fault)
    return isWithoutEnd
  }

  #file(path: string, found: FatName): void {
    const hasher = newSha256()
    let sizeBytes = 0
    this.#volume.readFile(path, (bytes) => {
      this.#cancel()
      hasher.update(bytes)
      sizeBytes += bytes.length
      this.#onBytes((this.#done += bytes.length), path)
      if (this.#done > this.#mostBytes) throw new FatFault(`${path} is larger than the card: it is damaged.`)
    })
    if (sizeBytes !== found.sizeBytes)
      throw new FatFault(`${path} ends after ${sizeBytes} of ${found.sizeBytes} bytes.`)
    this.#files.push({ path, sizeBytes, sha256: hasher.digestHex() })
  }
}

function hashStretch(image: ByteSource, stretch: ImageStretch, cancel: CancelCheck): string | null {
  const hasher = newSha256()
  const piece = Buffer.allocUnsafe(Math.min(stretch.sizeBytes, 1 << 20))
  for (let at = 0; at < stretch.sizeBytes;) {
    cancel()
    const wanted = piece.subarray(0, Math.min(piece.length, stretch.sizeBytes - at))
    const length = image.readInto(wanted, stretch.offset + at)
    if (length === 0) return null
    hasher.update(wanted.subarray(0, length))
    at += length
  }
  return hasher.digestHex()
}
