import type { Connection } from './connection.ts'

/** What a write is told by its caller: the worker has no clock and no chance of its own. */
export interface Stamp {
  readonly at: string
  /** Fresh UUIDs, as many as the call may need. */
  readonly ids: readonly string[]
}

/** What every writer needs. One stands for a worker's life; the stamp changes with each call. */
export interface WriteContext {
  readonly connection: Connection
  at(): string
  newId(): string
  /** Notes an edit. `entity` and `entityId` say what; values never come here. */
  journal(what: string, entity: string, entityId: string): void
}

/** @param actor who writes, with an id to record them by where the workshop does not know them yet */
export function writeContext(
  connection: Connection,
  actor: { readonly id: string; readonly name: string },
  stamp: () => Stamp,
): WriteContext {
  let used = 0
  let usedOf: Stamp | undefined
  return {
    connection,
    at: () => stamp().at,
    newId: () => {
      const current = stamp()
      if (usedOf !== current) {
        usedOf = current
        used = 0
      }
      const id = current.ids[used++]
      if (id === undefined) throw new RangeError('a write needed more ids than its caller gave')
      return id
    },
    journal: (what, entity, entityId) => {
      connection
        .prepare('INSERT INTO actor (id, name) VALUES (?, ?) ON CONFLICT (name) DO NOTHING')
        .run(actor.id, actor.name)
      connection
        .prepare(
          `INSERT INTO journal (at, actor_id, what, entity, entity_id)
           SELECT ?, id, ?, ?, ? FROM actor WHERE name = ?`,
        )
        .run(stamp().at, what, entity, entityId, actor.name)
    },
  }
}
