/**
 * A FAT volume read from the specification alone (Microsoft, FAT 1.03), with nothing of app/cards:
 * what the tests hold images against. Strict: whatever looks wrong is a fault.
 */
export type ReadAt = (offset: number, length: number) => Uint8Array

export interface WalkedFile {
  readonly path: string
  readonly shortName: string
  readonly sizeBytes: number
  readonly clusters: readonly number[]
  readonly bytes: () => Uint8Array
}

export interface WalkedCard {
  readonly fatType: 'fat16' | 'fat32'
  readonly clusterBytes: number
  readonly clusterCount: number
  readonly usedClusters: number
  readonly freeClusters: number
  readonly dataOffset: number
  readonly partitionOffset: number
  readonly label: string
  /** Depth first, in directory order. */
  readonly files: readonly WalkedFile[]
  readonly folders: readonly string[]
  readonly folderClusters: ReadonlyMap<string, readonly number[]>
  readonly faults: readonly string[]
}

export function walkFat(read: ReadAt, imageBytes: number): WalkedCard {
  return new Walk(read, imageBytes).run()
}

class Walk {
  readonly #read: ReadAt
  readonly #imageBytes: number
  readonly #faults: string[] = []
  readonly #files: WalkedFile[] = []
  readonly #folders: string[] = []
  readonly #folderClusters = new Map<string, readonly number[]>()
  readonly #owners = new Map<number, string>()
  #label = ''
  #fatType: 'fat16' | 'fat32' = 'fat32'
  #fat: DataView = new DataView(new ArrayBuffer(0))
  #clusterBytes = 0
  #clusterCount = 0
  #dataOffset = 0

  constructor(read: ReadAt, imageBytes: number) {
    this.#read = read
    this.#imageBytes = imageBytes
  }

  run(): WalkedCard {
    const table = view(this.#read(0, 512))
    this.#expect(table.getUint16(510, true) === 0xaa55, 'no 55 AA on sector 0')
    const start = table.getUint32(454, true)
    const sectors = table.getUint32(458, true)
    this.#expect((start + sectors) * 512 <= this.#imageBytes, 'partition beyond the image')
    for (const at of [462, 478, 494]) this.#expect(table.getUint8(at + 4) === 0, 'more than one partition')
    const base = start * 512
    const boot = view(this.#read(base, 512))
    const sectorsPerCluster = boot.getUint8(13)
    const reserved = boot.getUint16(14, true)
    const rootSlots = boot.getUint16(17, true)
    const total = boot.getUint16(19, true) || boot.getUint32(32, true)
    const fatSectors = boot.getUint16(22, true) || boot.getUint32(36, true)
    const rootSectors = Math.ceil((rootSlots * 32) / 512)
    const dataSector = reserved + 2 * fatSectors + rootSectors
    this.#clusterBytes = sectorsPerCluster * 512
    this.#clusterCount = Math.floor((total - dataSector) / sectorsPerCluster)
    this.#dataOffset = base + dataSector * 512
    this.#fatType = this.#clusterCount < 65_525 ? 'fat16' : 'fat32'
    this.#expect(this.#clusterCount >= 4085, 'a FAT12')
    this.#expect(boot.getUint16(11, true) === 512, 'sectors of other than 512 bytes')
    this.#expect(boot.getUint8(16) === 2, 'not two FATs')
    this.#expect(boot.getUint32(28, true) === start, 'hidden sectors')
    this.#expect(total === sectors, 'volume does not fill the partition')
    this.#expect(
      (boot.getUint16(22, true) === 0) === (this.#fatType === 'fat32'),
      'kind of FAT against cluster count',
    )

    const entryBytes = this.#fatType === 'fat32' ? 4 : 2
    const fatBytes = (this.#clusterCount + 2) * entryBytes
    this.#expect(fatBytes <= fatSectors * 512, 'FAT too short')
    const first = this.#read(base + reserved * 512, fatSectors * 512)
    const second = this.#read(base + (reserved + fatSectors) * 512, fatSectors * 512)
    this.#expect(Buffer.compare(first, second) === 0, 'FATs differ')
    this.#fat = view(first)
    this.#expect(this.#entry(0) === (this.#fatType === 'fat32' ? 0x0ffffff8 : 0xfff8), 'FAT[0]')
    this.#expect(this.#entry(1) === (this.#fatType === 'fat32' ? 0x0fffffff : 0xffff), 'FAT[1]')

    if (this.#fatType === 'fat32') {
      const chain = this.#chain(boot.getUint32(44, true), 'root')
      this.#folderClusters.set('', chain)
      this.#directory('', this.#contentOf(chain), 0, 0)
    } else {
      this.#directory('', this.#read(this.#dataOffset - rootSectors * 512, rootSectors * 512), 0, 0)
    }
    let freeClusters = 0
    for (let cluster = 2; cluster < this.#clusterCount + 2; cluster++) {
      const isFree = this.#entry(cluster) === 0
      if (isFree) freeClusters++
      else if (!this.#owners.has(cluster)) this.#faults.push(`cluster ${cluster} is lost`)
    }
    if (this.#fatType === 'fat32') this.#fsInfo(base, freeClusters)
    return {
      fatType: this.#fatType,
      clusterBytes: this.#clusterBytes,
      clusterCount: this.#clusterCount,
      usedClusters: this.#owners.size,
      freeClusters,
      dataOffset: this.#dataOffset,
      partitionOffset: base,
      label: this.#label,
      files: this.#files,
      folders: this.#folders,
      folderClusters: this.#folderClusters,
      faults: this.#faults,
    }
  }

  #fsInfo(base: number, freeClusters: number): void {
    const info = view(this.#read(base + 512, 512))
    this.#expect(info.getUint32(488, true) === freeClusters, 'FSInfo free count')
    const backup = this.#read(base + 6 * 512, 3 * 512)
    this.#expect(Buffer.compare(backup, this.#read(base, 3 * 512)) === 0, 'backup boot sectors')
  }

  #directory(path: string, bytes: Uint8Array, ownCluster: number, parentCluster: number): void {
    const folders: { path: string; cluster: number }[] = []
    let long: { units: number[][]; checksum: number; next: number } | null = null
    let isEnded = false
    const shorts = new Set<string>()
    for (let at = 0, slot = 0; at + 32 <= bytes.length; at += 32, slot++) {
      const entry = bytes.subarray(at, at + 32)
      const fields = view(entry)
      if (isEnded || entry[0] === 0) {
        if (entry.some((byte) => byte !== 0)) this.#faults.push(`/${path}: slot ${slot} after the end`)
        isEnded = true
        continue
      }
      const attribute = fields.getUint8(11)
      if (attribute === 0x0f) {
        const ordinal = fields.getUint8(0)
        if (ordinal & 0x40) long = { units: [], checksum: fields.getUint8(13), next: (ordinal & 0x3f) - 1 }
        else if (long === null || ordinal !== long.next || fields.getUint8(13) !== long.checksum) {
          this.#faults.push(`/${path}: long slot ${slot} out of order`)
          continue
        } else long.next--
        const units: number[] = []
        for (const offset of [1, 3, 5, 7, 9, 14, 16, 18, 20, 22, 24, 28, 30])
          units.push(fields.getUint16(offset, true))
        long.units.unshift(units)
        continue
      }
      const shortName = Buffer.from(entry.subarray(0, 11)).toString('latin1')
      const cluster = fields.getUint16(20, true) * 0x10000 + fields.getUint16(26, true)
      if (attribute & 0x08) {
        this.#expect(path === '' && slot === 0, 'label out of place')
        this.#label = shortName.trimEnd()
        continue
      }
      if (path !== '' && slot < 2) {
        this.#expect(shortName === (slot === 0 ? '.' : '..').padEnd(11), `/${path}: dot entry ${slot}`)
        this.#expect(cluster === (slot === 0 ? ownCluster : parentCluster), `/${path}: dot cluster ${slot}`)
        continue
      }
      this.#expect(!shorts.has(shortName), `/${path}: short name ${shortName} twice`)
      shorts.add(shortName)
      this.#expect(fields.getUint8(12) === 0, `/${path}: case bits`)
      let name = shown(shortName)
      if (long !== null) {
        this.#expect(
          long.next === 0 && long.checksum === checksum(entry),
          `/${path}: long name of ${shortName}`,
        )
        const units = long.units.flat()
        const end = units.indexOf(0)
        name = String.fromCharCode(...(end < 0 ? units : units.slice(0, end)))
        long = null
      }
      const below = path === '' ? name : `${path}/${name}`
      if (attribute & 0x10) {
        this.#folders.push(below)
        folders.push({ path: below, cluster })
        const chain = this.#chain(cluster, below)
        this.#folderClusters.set(below, chain)
        this.#directory(below, this.#contentOf(chain), cluster, path === '' ? 0 : ownCluster)
        continue
      }
      const sizeBytes = fields.getUint32(28, true)
      const clusters = cluster === 0 ? [] : this.#chain(cluster, below)
      this.#expect(
        clusters.length === Math.ceil(sizeBytes / this.#clusterBytes),
        `${below}: length of its chain`,
      )
      const bytesOf = (): Uint8Array => this.#contentOf(clusters).subarray(0, sizeBytes)
      this.#files.push({ path: below, shortName: shown(shortName), sizeBytes, clusters, bytes: bytesOf })
    }
    this.#expect(long === null, `/${path}: a long name without its short one`)
  }

  #chain(first: number, owner: string): number[] {
    const clusters: number[] = []
    const most = this.#fatType === 'fat32' ? 0x0ffffff8 : 0xfff8
    for (let cluster = first; cluster < most; cluster = this.#entry(cluster)) {
      if (cluster < 2 || cluster >= this.#clusterCount + 2 || this.#owners.has(cluster)) {
        this.#faults.push(`${owner}: chain reaches ${cluster}`)
        break
      }
      if (clusters.length > 0 && cluster !== (clusters.at(-1) ?? 0) + 1)
        this.#faults.push(`${owner}: not one run`)
      this.#owners.set(cluster, owner)
      clusters.push(cluster)
    }
    return clusters
  }

  #contentOf(clusters: readonly number[]): Uint8Array {
    const pieces = clusters.map((cluster) =>
      this.#read(this.#dataOffset + (cluster - 2) * this.#clusterBytes, this.#clusterBytes),
    )
    return Buffer.concat(pieces)
  }

  #entry(cluster: number): number {
    return this.#fatType === 'fat32'
      ? this.#fat.getUint32(cluster * 4, true)
      : this.#fat.getUint16(cluster * 2, true)
  }

  #expect(holds: boolean, fault: string): void {
    if (!holds) this.#faults.push(fault)
  }
}

function checksum(entry: Uint8Array): number {
  let sum = 0
  for (const byte of entry.subarray(0, 11)) sum = ((sum & 1 ? 0x80 : 0) + (sum >> 1) + byte) & 0xff
  return sum
}

function shown(shortName: string): string {
  const base = shortName.slice(0, 8).trimEnd()
  const extension = shortName.slice(8).trimEnd()
  return extension === '' ? base : `${base}.${extension}`
}

function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
}
