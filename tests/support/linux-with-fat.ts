import { spawnSync } from 'node:child_process'
import { chmodSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

/** A Linux kernel that runs as a program, and brings the file system of cards along: Debian's `user-mode-linux`. */
export const LINUX_WITH_FAT = 'linux.uml'

/** Ends the machine as a power cut does: what is not on the card yet never comes there. */
export const CUT_POWER = 'echo o > /proc/sysrq-trigger; sleep 60'

/**
 * Runs commands of a shell as root under a Linux of their own, in which `card` is the first partition of
 * an image, mounted below `/mnt/card` as desktops do it. The files of this machine are its files.
 *
 * @returns what the commands printed on descriptor 3
 */
export function runWithCard(folder: string, image: string, commands: readonly string[]): string {
  const [init, out] = [join(folder, 'init'), join(folder, 'told')]
  writeFileSync(out, '')
  writeFileSync(
    init,
    [
      '#!/bin/sh',
      'export PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root',
      'mount -t proc proc /proc; mount -t tmpfs tmpfs /mnt; mkdir /mnt/card',
      'modules=/usr/lib/uml/modules/$(uname -r)/kernel/fs',
      'for module in fat/fat nls/nls_cp437 nls/nls_iso8859-1 fat/vfat; do insmod $modules/$module.ko; done',
      'mount_card() { mount -t vfat -o utf8,shortname=mixed /dev/ubda1 /mnt/card; }',
      'put_in_again() { umount /mnt/card && mount_card; }',
      `exec 3>>'${out}'`,
      'mount_card',
      ...commands,
      'umount /mnt/card; halt -f -p',
    ].join('\n'),
  )
  chmodSync(init, 0o755)
  const kernel = spawnSync(
    LINUX_WITH_FAT,
    [
      'mem=768M',
      `ubd0=${image}`,
      'rootfstype=hostfs',
      'rootflags=/',
      'rw',
      `init=${init}`,
      'con=null',
      'con0=null,fd:1',
      'quiet',
    ],
    { encoding: 'utf8', timeout: 240_000 },
  )
  const told = spawnSync('cat', [out], { encoding: 'utf8' }).stdout
  if (told === '') throw new Error(`nothing came of it: ${kernel.stdout.slice(-2_000)}`)
  return told
}
