import type { IpcMain, IpcMainInvokeEvent, WebContents } from 'electron'
import { CHANGED_CHANNEL, CHANNELS, JOB_CHANNEL, type Answer } from '../../app/contract/door.ts'
import type { Answers } from '../answer.ts'
import { isOfWindow } from './window-address.ts'

/**
 * Answers every name of the contract, for the main frame of our own window and nobody else, and tells
 * it of jobs and of changes by other processes.
 * @returns a function that stops it.
 */
export function registerIpc(ipc: IpcMain, answers: Answers, window: WebContents): () => void {
  for (const channel of CHANNELS) {
    ipc.handle(channel, (event, request: unknown): Promise<Answer> | Answer =>
      isOurs(event, window) ? answers.send(channel, request) : FOREIGN,
    )
  }
  const stops = [
    answers.onJob((job) => {
      if (!window.isDestroyed()) window.send(JOB_CHANNEL, job)
    }),
    answers.onForeignChange(() => {
      if (!window.isDestroyed()) window.send(CHANGED_CHANNEL)
    }),
  ]
  return () => {
    for (const stop of stops) stop()
    for (const channel of CHANNELS) ipc.removeHandler(channel)
  }
}

function isOurs(event: IpcMainInvokeEvent, window: WebContents): boolean {
  const frame = event.senderFrame
  return event.sender === window && frame !== null && frame === window.mainFrame && isOfWindow(frame.url)
}

const FOREIGN: Answer = {
  ok: false,
  error: { code: 'door/foreign-sender', what: 'This page may not use Cardwright.', where: '', mend: '' },
}
