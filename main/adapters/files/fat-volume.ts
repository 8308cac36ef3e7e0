import * as FatFs from 'js-fatfs'
import type { ByteSource } from '../../../app/ports/bytes.ts'

const SECTOR_BYTES = 512
const READ_BYTES = 1 << 20
/** A folder of FAT holds 65,536 slots; a damaged one may never end. */
const MOST_NAMES = 65_536

export interface FatName {
  readonly name: string
  readonly isFolder: boolean
  readonly sizeBytes: number
}

/** What a read of the library came to, where it was not well. */
export class FatFault extends Error {
  override readonly name = 'FatFault'
}

/**
 * A FAT volume of an image, read by a library that shares nothing with what writes it. Paths are
 * `/`-joined from the root.
 */
export interface FatVolume {
  /** Names of a folder in the order of its directory. @throws FatFault */
  list(folder: string): FatName[]
  /** Calls back with a file's bytes, piece by piece; they are only valid during the call. @throws FatFault */
  readFile(path: string, onBytes: (bytes: Uint8Array) => void): void
  /** Sectors read so far. */
  sectorsRead(): number
  close(): void
}

/**
 * @param image the whole image; its first partition or the volume itself is found by the library
 * @throws FatFault where there is no FAT volume
 */
export async function openFatVolume(image: ByteSource): Promise<FatVolume> {
  let sectors = 0
  const fat = await FatFs.create({
    diskio: {
      initialize: () => 0,
      status: () => FatFs.STA_PROTECT,
      read(ff, _drive, buffer, sector, count) {
        sectors += count
        const target = ff.HEAPU8.subarray(buffer, buffer + count * SECTOR_BYTES)
        return image.readInto(target, Number(sector) * SECTOR_BYTES) === target.length
          ? FatFs.RES_OK
          : FatFs.RES_ERROR
      },
      write: () => FatFs.RES_WRPRT,
      ioctl(ff, _drive, command, buffer) {
        if (command === FatFs.GET_SECTOR_COUNT)
          ff.setValue(buffer, Math.floor(image.sizeBytes / SECTOR_BYTES), 'i32')
        else if (command === FatFs.GET_SECTOR_SIZE) ff.setValue(buffer, SECTOR_BYTES, 'i16')
        else if (command === FatFs.GET_BLOCK_SIZE) ff.setValue(buffer, 1, 'i32')
        return FatFs.RES_OK
      },
    },
  })
  const memory = {
    volume: fat.malloc(FatFs.sizeof_FATFS),
    folder: fat.malloc(FatFs.sizeof_DIR),
    info: fat.malloc(FatFs.sizeof_FILINFO),
    file: fat.malloc(FatFs.sizeof_FIL),
    bytes: fat.malloc(READ_BYTES),
    number: fat.malloc(16),
  }
  mustSucceed(fat.f_mount(memory.volume, '', 1), 'the file system')

  function list(folder: string): FatName[] {
    mustSucceed(fat.f_opendir(memory.folder, `/${folder}`), `/${folder}`)
    const names: FatName[] = []
    try {
      for (;;) {
        mustSucceed(fat.f_readdir(memory.folder, memory.info), `/${folder}`)
        const name = fat.FILINFO_fname(memory.info)
        if (name === '') return names
        if (names.length >= MOST_NAMES) throw new FatFault(`/${folder} never ends: the folder is damaged.`)
        const isFolder = (fat.FILINFO_fattrib(memory.info) & FatFs.AM_DIR) !== 0
        names.push({ name, isFolder, sizeBytes: Number(fat.FILINFO_fsize(memory.info)) >>> 0 })
      }
    } finally {
      fat.f_closedir(memory.folder)
    }
  }

  return {
    list,
    readFile(path, onBytes) {
      mustSucceed(fat.f_open(memory.file, `/${path}`, FatFs.FA_READ), path)
      try {
        for (;;) {
          mustSucceed(fat.f_read(memory.file, memory.bytes, READ_BYTES, memory.number), path)
          const length = Number(fat.getValue(memory.number, 'i32'))
          if (length === 0) return
          onBytes(fat.HEAPU8.subarray(memory.bytes, memory.bytes + length))
        }
      } finally {
        fat.f_close(memory.file)
      }
    },
    sectorsRead: () => sectors,
    close() {
      fat.f_unmount('')
    },
  }
}

/** Results of the library (its manual, "FRESULT") that a damaged card leads to, in words. */
const WORDS: ReadonlyMap<number, string> = new Map([
  [FatFs.FR_DISK_ERR, 'cannot be read: the image ends, or the card fails'],
  [FatFs.FR_INT_ERR, 'is damaged: its chain of clusters leads astray'],
  [FatFs.FR_NO_FILE, 'is named but cannot be found'],
  [FatFs.FR_NO_PATH, 'is named but cannot be found'],
  [FatFs.FR_INVALID_NAME, 'has a name that cannot be'],
  [FatFs.FR_NO_FILESYSTEM, 'is no FAT16 or FAT32'],
])

function mustSucceed(result: number, what: string): void {
  if (result === FatFs.FR_OK) return
  throw new FatFault(`${what} ${WORDS.get(result) ?? `cannot be read (fault ${result})`}.`)
}
