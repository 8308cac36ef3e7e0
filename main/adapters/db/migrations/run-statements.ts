import type { Kysely } from 'kysely'

/** Runs statements of the schema in their order. */
export async function runStatements(db: Kysely<unknown>, statements: readonly string[]): Promise<void> {
  // Loaded here: a workshop of the newest schema runs none, and opens faster.
  const { sql } = await import('kysely')
  for (const statement of statements) await sql.raw(statement).execute(db)
}
