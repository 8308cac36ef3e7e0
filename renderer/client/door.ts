import type { Answer, Channel, Job } from '../../app/contract/door.ts'

/** The way to the core, whichever of the doors this window came through. */
export interface Door {
  send(channel: Channel, request: unknown): Promise<Answer>
  onJob(listener: (job: Job) => void): () => void
  /** Address of a sound's original, or of what was prepared of it for a board, for an audio element. */
  soundAddress(soundId: string, preparedForBoardId?: string): string
}
