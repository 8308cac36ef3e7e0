import { nameKey } from './name-key.ts'
import type { WriteContext } from './write-context.ts'

/** Rows of people are shared by all who name the same one, so that one change or removal reaches all. */

/** Null for an empty name. Spelled alike but for case is the same folder name on many disks. */
export function proposedCreatorId(context: WriteContext, name: string | null): string | null {
  if (name === null || name === '') return null
  const key = nameKey(name)
  const known = context.connection.prepare('SELECT id FROM proposed_creator WHERE name_key = ?').pluck()
  const found = known.get(key) as string | undefined
  if (found !== undefined) return found
  const id = context.newId()
  context.connection
    .prepare('INSERT INTO proposed_creator (id, name, name_key) VALUES (?, ?, ?)')
    .run(id, name, key)
  return id
}

export function holderId(context: WriteContext, name: string): string | null {
  return sharedRow(
    context,
    name,
    'SELECT id FROM holder WHERE name = ?',
    'INSERT INTO holder (id, name) VALUES (?, ?)',
  )
}

export function clientId(context: WriteContext, label: string): string | null {
  return sharedRow(
    context,
    label,
    'SELECT id FROM client WHERE label = ?',
    'INSERT INTO client (id, label) VALUES (?, ?)',
  )
}

/** A name that nothing refers to any longer is not kept. */
export function forgetUnusedPeople({ connection }: WriteContext): void {
  connection
    .prepare('DELETE FROM holder WHERE NOT EXISTS (SELECT 1 FROM licence WHERE holder_id = holder.id)')
    .run()
  connection
    .prepare('DELETE FROM client WHERE NOT EXISTS (SELECT 1 FROM build WHERE client_id = client.id)')
    .run()
}

function sharedRow(context: WriteContext, value: string, find: string, add: string): string | null {
  if (value === '') return null
  const found = context.connection.prepare(find).pluck().get(value) as string | undefined
  if (found !== undefined) return found
  const id = context.newId()
  context.connection.prepare(add).run(id, value)
  return id
}
