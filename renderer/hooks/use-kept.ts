import { useEffect, useState, type Dispatch, type SetStateAction } from 'react'

/**
 * State that this window keeps until it is closed: it is there again when its view is opened anew, and
 * after a reload. No other window sees it, and no later version reads it.
 *
 * @param name finds it again; another name is another state only where the view begins anew with it
 * @param start where nothing is kept yet
 */
export function useKept<T>(name: string, start: T): readonly [T, Dispatch<SetStateAction<T>>] {
  const [value, setValue] = useState<T>(() => keptUnder<T>(name) ?? start)
  useEffect(() => keepUnder(name, JSON.stringify(value)), [name, value])
  return [value, setValue]
}

/** Keeps a text in this window; where the browser has no room for it, it lasts as long as its view. */
export function keepUnder(name: string, text: string): void {
  try {
    sessionStorage.setItem(name, text)
  } catch (fault) {
    if (!(fault instanceof DOMException)) throw fault
  }
}

function keptUnder<T>(name: string): T | undefined {
  const text = sessionStorage.getItem(name)
  return text === null ? undefined : (JSON.parse(text) as T)
}
