import type { TargetVolume } from '../../../app/model/target.ts'

/** FAT 1.03, "FAT Type Determination": the count of clusters decides, and nothing else. */
const LEAST_FAT16_CLUSTERS = 4085
const LEAST_FAT32_CLUSTERS = 65_525

const FAT = /^(vfat|msdos|fuse\.fusefat|fat|fat ?(12|16|32)|ms-dos( fat)?( ?(12|16|32))?|fat\d\d \(.*\))$/
const NAMES: readonly (readonly [RegExp, string])[] = [
  [/^(fuse\.)?exfat/, 'exFAT'],
  [/^(fuse\.)?ntfs/, 'NTFS'],
  [/^apfs/, 'APFS'],
  [/^(hfs|mac os extended|journaled hfs)/, 'HFS+'],
]

/**
 * What a system calls a file system, in words that all systems share.
 * @param clusterCount null where the system does not tell
 */
export function fileSystemOf(
  told: string,
  clusterCount: number | null,
): Pick<TargetVolume, 'fileSystem' | 'isFat' | 'fatType'> {
  const name = told.trim().toLowerCase()
  if (!FAT.test(name)) {
    const known = NAMES.find(([pattern]) => pattern.test(name))
    return { fileSystem: known?.[1] ?? told.trim(), isFat: false, fatType: null }
  }
  const bits = /(12|16|32)/.exec(name)?.[1] ?? bitsByCount(clusterCount)
  if (bits === null) return { fileSystem: 'FAT', isFat: true, fatType: null }
  return { fileSystem: `FAT${bits}`, isFat: true, fatType: `fat${bits}` as TargetVolume['fatType'] }
}

function bitsByCount(clusterCount: number | null): '12' | '16' | '32' | null {
  if (clusterCount === null) return null
  if (clusterCount < LEAST_FAT16_CLUSTERS) return '12'
  return clusterCount < LEAST_FAT32_CLUSTERS ? '16' : '32'
}
