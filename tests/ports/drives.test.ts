import { spawnSync } from 'node:child_process'
import { copyFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { fileSystemOf } from '../../main/adapters/drives/file-system-words.ts'
import { forbiddenPlace, type Surroundings } from '../../main/adapters/drives/forbidden-place.ts'
import { mountOf, parseMountInfo, type Mount } from '../../main/adapters/drives/mounts.ts'
import {
  isOnSystemDisk,
  removableDrives,
  type BlockDevice,
} from '../../main/adapters/drives/removable-drives.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

const support = join(import.meta.dirname, '../support')

const AROUND: Readonly<Record<'linux' | 'darwin' | 'win32', Surroundings>> = {
  linux: { platform: 'linux', home: '/home/kim', inUse: ['/usr/bin/node', '/tmp'], systemFolders: [] },
  darwin: {
    platform: 'darwin',
    home: '/Users/kim',
    inUse: ['/Applications/Cardwright.app/x', '/private/var/folders/x'],
    systemFolders: [],
  },
  win32: {
    platform: 'win32',
    home: 'C:\\Users\\kim',
    inUse: ['C:\\Program Files\\Cardwright\\cardwright.exe', 'C:\\Users\\kim\\AppData\\Local\\Temp'],
    systemFolders: ['C:\\Windows', 'C:\\Program Files'],
  },
}

/** What the library makes of the tools' recorded outputs, in a process that takes itself for that system. */
function blockDevicesOn(platform: keyof typeof AROUND): readonly BlockDevice[] {
  const tools = temporaryFolder()
  const put = (name: string, script: string) =>
    writeFileSync(join(tools, name), `#!/bin/sh\n${script}\n`, { mode: 0o755 })
  for (const name of ['linux-lsblk', 'darwin-diskutil', 'win32-logical-disks', 'win32-disk-drives'])
    copyFileSync(join(support, 'drives', `${name}.txt`), join(tools, `${name}.txt`))
  put('lsblk', `cat ${tools}/linux-lsblk.txt`)
  put('diskutil', `cat ${tools}/darwin-diskutil.txt`)
  put(
    'powershell.exe',
    `if cat | grep -qi diskdrive; then cat ${tools}/win32-disk-drives.txt; else cat ${tools}/win32-logical-disks.txt; fi`,
  )
  const child = spawnSync(process.execPath, [join(support, 'block-devices-child.ts'), platform], {
    env: { ...process.env, PATH: `${tools}:${process.env['PATH'] ?? ''}` },
    encoding: 'utf8',
  })
  return JSON.parse(child.stdout) as readonly BlockDevice[]
}

describe('of the drives that each system tells, those are offered that a card may be in', () => {
  const offered = (platform: keyof typeof AROUND) =>
    removableDrives(blockDevicesOn(platform), AROUND[platform]).map(
      ({ path, label, fileSystem, sizeBytes }) => [path, label, fileSystem, sizeBytes],
    )

  test('Linux: a card in a reader, and one in the computer’s own, which the system calls fixed', () => {
    expect(offered('linux')).toEqual([
      ['/media/kim/MY CARD', 'MY CARD', 'vfat', 15_930_490_880],
      [null, '', 'exfat', 63_847_792_640],
    ])
  })

  test('macOS: by the medium and by the connection', () => {
    expect(offered('darwin')).toEqual([
      ['/Volumes/CARD', 'CARD', 'MS-DOS FAT32', 15_930_490_880],
      ['/Volumes/Untitled', 'Untitled', 'ExFAT', 63_847_792_640],
    ])
  })

  test('Windows: removable ones with a card in them, and cards that are called fixed', () => {
    expect(offered('win32')).toEqual([
      ['E:\\', 'MY CARD', 'fat32', 15_926_820_864],
      ['G:\\', '', 'exfat', 63_831_015_424],
    ])
  })

  test('nothing on a disk that the system lies on, whatever its file system', () => {
    const [linux, windows] = [blockDevicesOn('linux'), blockDevicesOn('win32')]
    expect(isOnSystemDisk('/media/kim/RECOVERY', linux, AROUND.linux)).toBe(true)
    expect(isOnSystemDisk('/media/kim/MY CARD', linux, AROUND.linux)).toBe(false)
    expect(isOnSystemDisk('D:\\', windows, AROUND.win32)).toBe(true)
    expect(isOnSystemDisk('E:\\', windows, AROUND.win32)).toBe(false)
  })
})

describe('a place that is never written to', () => {
  const disk: Mount = { path: '/', fileSystem: 'ext4', device: '/dev/sda3' }
  const windows: Mount = { path: 'C:\\', fileSystem: 'NTFS', device: 'C:' }
  const mounted = (path: string): Mount => ({ path, fileSystem: 'vfat', device: '/dev/sdb1' })

  test.each([
    ['linux', '/', disk, 'the root of the system'],
    ['linux', '/home/kim', disk, 'the home folder'],
    ['linux', '/home', disk, 'the home folder'],
    ['linux', '/home', mounted('/home'), 'the home folder'],
    ['linux', '/etc/fonts', disk, 'a folder of the system'],
    ['linux', '/boot/efi', mounted('/boot/efi'), 'a disk of the system'],
    ['linux', '/media', disk, 'a folder that others lie in'],
    ['linux', '/home/kim/card', disk, null],
    ['linux', '/tmp/card', disk, null],
    ['linux', '/media/kim/CARD', mounted('/media/kim/CARD'), null],
    ['linux', '/run/media/kim/CARD', mounted('/run/media/kim/CARD'), null],
    ['linux', '/mnt', mounted('/mnt'), null],
    ['darwin', '/Users/kim', disk, 'the home folder'],
    ['darwin', '/Volumes', disk, 'a folder that others lie in'],
    ['darwin', '/System/Volumes/Data', mounted('/System/Volumes/Data'), 'a disk of the system'],
    ['darwin', '/Library/x', disk, 'a folder of the system'],
    ['darwin', '/Volumes/CARD', mounted('/Volumes/CARD'), null],
    ['win32', 'C:\\', windows, 'the root of the system'],
    ['win32', 'C:\\Users', windows, 'the home folder'],
    ['win32', 'c:\\users\\kim', windows, 'the home folder'],
    ['win32', 'C:\\Windows\\Fonts', windows, 'a folder of the system'],
    ['win32', 'C:\\cards\\one', windows, null],
    ['win32', 'E:\\', { ...windows, path: 'E:\\' }, null],
  ] as const)('on %s: %s', (platform, path, mount, expected) => {
    expect(forbiddenPlace(path, mount, AROUND[platform])).toBe(expected)
  })
})

describe('a file system', () => {
  test.each([
    ['vfat', 70_000, 'FAT32', 'fat32'],
    ['vfat', 65_524, 'FAT16', 'fat16'],
    ['msdos', 4_084, 'FAT12', 'fat12'],
    ['vfat', null, 'FAT', null],
    ['FAT32', null, 'FAT32', 'fat32'],
    ['FAT', 65_000, 'FAT16', 'fat16'],
    ['MS-DOS FAT16', null, 'FAT16', 'fat16'],
    ['exfat', 900_000, 'exFAT', null],
    ['ExFAT', null, 'exFAT', null],
    ['ntfs3', null, 'NTFS', null],
    ['NTFS', null, 'NTFS', null],
    ['ext4', 10, 'ext4', null],
    ['', null, '', null],
  ])('called %s, of %s clusters, is %s', (told, clusters, words, fatType) => {
    expect(fileSystemOf(told, clusters)).toEqual({
      fileSystem: words,
      isFat: words.startsWith('FAT'),
      fatType,
    })
  })
})

test('mounts of Linux are read with their spaces, and the innermost counts', () => {
  const mounts = parseMountInfo(
    [
      '27 1 254:0 / / rw,relatime shared:1 - ext4 /dev/vda rw',
      '42 27 8:17 / /media/kim/MY\\040CARD rw,nosuid - vfat /dev/sdb1 rw,fmask=0022',
      '43 27 0:39 / /media/kim/MY\\040CARD/inner rw - tmpfs none rw',
    ].join('\n'),
  )
  expect(mountOf('/media/kim/MY CARD/fonts', mounts)).toEqual({
    path: '/media/kim/MY CARD',
    fileSystem: 'vfat',
    device: '/dev/sdb1',
  })
  expect(mountOf('/media/kim/MY CARDS', mounts)?.path).toBe('/')
  expect(mountOf('/media/kim/MY CARD/inner', mounts)?.fileSystem).toBe('tmpfs')
})
