import type { Answer, Channel, Job } from '../../app/contract/door.ts'

/** What a door tells by itself. */
export interface DoorEvents {
  job(job: Job): void
  /** Another process changed the workshop, or may have. */
  changed(): void
}

/** The way to the core, whichever of the doors this window came through. */
export interface Door {
  send(channel: Channel, request: unknown): Promise<Answer>
  /** Tells what happens on the other side from now on; called once. */
  listen(heard: DoorEvents): void
  /** Address of a sound's original, or of what was prepared of it for a board, for an audio element. */
  soundAddress(soundId: string, preparedForBoardId?: string): string
}
