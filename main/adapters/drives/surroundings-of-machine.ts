import { homedir, tmpdir } from 'node:os'
import type { Surroundings } from './forbidden-place.ts'

/** What must not be written to on this machine. */
export function surroundingsOfMachine(): Surroundings {
  const told = ['SystemRoot', 'ProgramFiles', 'ProgramFiles(x86)', 'ProgramData'].flatMap(
    (name) => process.env[name] ?? [],
  )
  return {
    platform: process.platform,
    home: homedir(),
    inUse: [process.execPath, tmpdir()],
    systemFolders: process.platform === 'win32' ? told : [],
  }
}
