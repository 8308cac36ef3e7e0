import { mkdirSync, statSync } from 'node:fs'
import { dirname } from 'node:path'

/**
 * Makes a folder and those above it that are missing, as Node's recursive `mkdir` does. That one (24.9)
 * asks for ever where a folder that is there answers "no such file" to whatever is to be made in it, as
 * folders of the system's own file systems do; neither Ctrl+C nor a time limit reaches it.
 *
 * @param path absolute
 * @throws errors of the file system, `EEXIST` where a file lies there
 */
export function makeFolders(path: string): void {
  for (const folder of missingFolders(path)) {
    try {
      mkdirSync(folder)
    } catch (error) {
      // Another process may have made it meanwhile.
      if (!isFolder(folder)) throw error
    }
  }
  if (!isFolder(path)) throw Object.assign(new Error(`EEXIST: ${path}`), { code: 'EEXIST' })
}

/** The highest first. */
function missingFolders(path: string): readonly string[] {
  const missing: string[] = []
  for (let at = path; !isThere(at); at = dirname(at)) {
    missing.unshift(at)
    // The root of a drive that is not there.
    if (dirname(at) === at) break
  }
  return missing
}

function isThere(path: string): boolean {
  return stateOf(path) !== undefined
}

function isFolder(path: string): boolean {
  return stateOf(path)?.isDirectory() === true
}

function stateOf(path: string) {
  try {
    return statSync(path, { throwIfNoEntry: false })
  } catch {
    // What is in the way is told by making it.
    return undefined
  }
}
