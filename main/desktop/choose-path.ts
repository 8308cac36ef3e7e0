import type { BrowserWindow, Dialog, OpenDialogOptions } from 'electron'
import type { AskRequest } from '../../app/contract/door.ts'

type Kind = AskRequest<'door:choose-path'>['kind']

const OPEN: Readonly<Record<Exclude<Kind, 'image-to-write'>, OpenDialogOptions>> = {
  folder: { properties: ['openDirectory'] },
  archive: { properties: ['openFile'], filters: [{ name: 'Zip archives', extensions: ['zip'] }] },
  'image-to-read': { properties: ['openFile'], filters: [{ name: 'Card images', extensions: ['img'] }] },
}

/** The operating system's own dialog. @returns the chosen path, or null where the user chose none. */
export async function choosePath(
  dialog: Dialog,
  window: BrowserWindow,
  { kind, suggested }: AskRequest<'door:choose-path'>,
): Promise<string | null> {
  const start = suggested === undefined ? {} : { defaultPath: suggested }
  if (kind === 'image-to-write') {
    const filters = [{ name: 'Card images', extensions: ['img'] }]
    const { canceled, filePath } = await dialog.showSaveDialog(window, { ...start, filters })
    return canceled ? null : filePath
  }
  const { canceled, filePaths } = await dialog.showOpenDialog(window, { ...start, ...OPEN[kind] })
  return canceled ? null : (filePaths[0] ?? null)
}
