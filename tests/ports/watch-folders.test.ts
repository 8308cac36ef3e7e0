import { mkdirSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test, vi } from 'vitest'
import { watchFolders } from '../../main/adapters/files/watch-folders.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

function watched() {
  const folder = temporaryFolder()
  const onChange = vi.fn()
  const folders = [join(folder, 'boards'), join(folder, 'schemes')]
  const stop = watchFolders(folders, onChange)
  onTestFinished(stop)
  const told = (times: number) =>
    vi.waitFor(() => expect(onChange).toHaveBeenCalledTimes(times), { timeout: 20_000 })
  return { folder, onChange, stop, told }
}

test('a folder that comes, and a file put in place of another, are told', async () => {
  const { folder, told } = watched()
  mkdirSync(join(folder, 'schemes'))
  await told(1)
  writeFileSync(join(folder, 'new.yaml'), 'scheme')
  renameSync(join(folder, 'new.yaml'), join(folder, 'schemes', 'mine.yaml'))
  await told(2)
})

test('a watch on what may not be looked at tells nothing, and goes on', async () => {
  const { folder, told } = watched()
  // A file where the folder should be has no entries, and a time of its own.
  writeFileSync(join(folder, 'boards'), '')
  await told(1)
})
