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
  const said = boot(init, ['mem=768M', `ubd0=${image}`], 240_000)
  const told = spawnSync('cat', [out], { encoding: 'utf8' }).stdout
  if (told === '') throw new Error(`nothing came of it: ${said.slice(-2_000)}`)
  return told
}

/** @returns what the kernel said on its console */
function boot(init: string, options: readonly string[], longestMs: number): string {
  const root = ['rootfstype=hostfs', 'rootflags=/', 'rw', `init=${init}`]
  const console = ['con=null', 'con0=null,fd:1', 'quiet']
  const kernel = spawnSync(LINUX_WITH_FAT, [...options, ...root, ...console], {
    encoding: 'utf8',
    timeout: longestMs,
  })
  return kernel.stdout ?? ''
}

/**
 * Why that kernel can start no program on this machine, tried with one that does nothing: the registers
 * of newer processors (those with AMX) are larger than Linux 6.1 as a program has room for.
 * @returns undefined where it can, or is not installed
 */
export function whyNoProgramStarts(): string | undefined {
  const said = boot('/bin/true', ['mem=128M'], 30_000)
  return said.includes('ptrace set fp regs failed')
    ? "this processor's registers are larger than user-mode Linux has room for"
    : undefined
}
