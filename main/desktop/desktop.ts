import { app } from 'electron'
import { join } from 'node:path'
import { writeFaultLog } from '../cli/fault-log.ts'
import { outliveFileLimit } from '../outlive-file-limit.ts'
import { openWorkshop } from '../workshop.ts'
import { surroundings, workshopFolder } from '../workshop-folder.ts'
import { openDesktopDoor } from './desktop-door.ts'

// The desktop program's entry, bundled into out/main beside out/preload and out/renderer.

const folder = workshopFolder(undefined, surroundings())

outliveFileLimit()
openDesktopDoor({
  openWorkshop: () => openWorkshop({ folder }),
  windowFolder: join(import.meta.dirname, '..', 'renderer'),
  preloadPath: join(import.meta.dirname, '..', 'preload', 'preload.cjs'),
  onFault: (thrown) => void writeFaultLog(thrown, folder, process.argv),
}).catch((thrown: unknown) => {
  writeFaultLog(thrown, folder, process.argv)
  app.exit(3)
})
