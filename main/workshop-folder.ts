import { userInfo, homedir } from 'node:os'
import { join, resolve } from 'node:path'

/** What of the surroundings decides where the workshop lies. */
export interface Surroundings {
  readonly platform: NodeJS.Platform
  readonly env: Readonly<Record<string, string | undefined>>
  readonly homeFolder: string
  /** The folder the user stands in. */
  readonly currentFolder: string
}

/** npm changes the working folder of what it runs and keeps the user's own in INIT_CWD. */
export function surroundings(): Surroundings {
  return {
    platform: process.platform,
    env: process.env,
    homeFolder: homedir(),
    currentFolder: process.env['INIT_CWD'] ?? process.cwd(),
  }
}

/**
 * Where the workshop lies: as named, else CARDWRIGHT_WORKSHOP, else the place for a user's data.
 * Source: XDG Base Directory Specification 0.8 for Linux; Apple's and Microsoft's folders for
 * application data elsewhere.
 */
export function workshopFolder(
  named: string | undefined,
  { platform, env, homeFolder, currentFolder }: Surroundings,
): string {
  const told = named ?? env['CARDWRIGHT_WORKSHOP']
  if (told !== undefined && told !== '') return resolve(currentFolder, told)
  if (platform === 'win32')
    return join(env['APPDATA'] ?? join(homeFolder, 'AppData', 'Roaming'), 'Cardwright')
  if (platform === 'darwin') return join(homeFolder, 'Library', 'Application Support', 'Cardwright')
  const dataHome = env['XDG_DATA_HOME']
  // The specification has relative paths ignored.
  const base = dataHome?.startsWith('/') === true ? dataHome : join(homeFolder, '.local', 'share')
  return join(base, 'cardwright')
}

/** Name of the account, for the journal; `unknown` where the system tells none. */
export function accountName(): string {
  try {
    return userInfo().username
  } catch {
    return 'unknown'
  }
}
