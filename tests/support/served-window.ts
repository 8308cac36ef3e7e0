import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Core } from '../../app/contract/core.ts'
import { buildRenderer } from '../../main/loopback/build-renderer.ts'
import { openLoopbackDoor, type LoopbackDoor } from '../../main/loopback/loopback-door.ts'
import type { OpenSound } from '../../main/sound-opener.ts'

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

/** The real window, built if its sources are newer, served by the real loopback door over the core. */
export async function serveWindow(core: Core, openSound: OpenSound | null = null): Promise<LoopbackDoor> {
  return openLoopbackDoor(core, {
    windowFolder: await buildRenderer(root),
    openSound,
    onFault: (thrown) => {
      throw thrown
    },
  })
}
