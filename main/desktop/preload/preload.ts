import { contextBridge, ipcRenderer } from 'electron'
import { CHANGED_CHANNEL, CHANNELS, JOB_CHANNEL } from '../../../app/contract/door.ts'

/**
 * All that the page sees of the desktop: calls by the names of the contract, job events, and that
 * another process changed the workshop. It never gets `ipcRenderer`, nor a channel of its own choosing.
 */
contextBridge.exposeInMainWorld('cardwright', {
  send(channel: unknown, request: unknown): Promise<unknown> {
    const known = CHANNELS.find((each) => each === channel)
    if (known === undefined) return Promise.reject(new TypeError('There is no such call.'))
    return ipcRenderer.invoke(known, request)
  },
  onJob(listener: (job: unknown) => void): () => void {
    const forward = (_event: unknown, job: unknown): void => listener(job)
    ipcRenderer.on(JOB_CHANNEL, forward)
    return () => void ipcRenderer.off(JOB_CHANNEL, forward)
  },
  onChanged(listener: () => void): () => void {
    const forward = (): void => listener()
    ipcRenderer.on(CHANGED_CHANNEL, forward)
    return () => void ipcRenderer.off(CHANGED_CHANNEL, forward)
  },
})
