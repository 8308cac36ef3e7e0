import { combine } from '@atlaskit/pragmatic-drag-and-drop/combine'
import { draggable, dropTargetForElements } from '@atlaskit/pragmatic-drag-and-drop/adapter/element-adapter'
import { attachClosestEdge } from '@atlaskit/pragmatic-drag-and-drop-hitbox/closest-edge/attach-closest-edge'
import { extractClosestEdge } from '@atlaskit/pragmatic-drag-and-drop-hitbox/closest-edge/extract-closest-edge'
import { getReorderDestinationIndex } from '@atlaskit/pragmatic-drag-and-drop-hitbox/util/get-reorder-destination-index'
import { useEffect, useEffectEvent, useState, type RefObject } from 'react'

export interface DragInList {
  readonly isDragged: boolean
  /** Where what is dragged would land beside this row; null where it would not. */
  readonly landsAt: 'top' | 'bottom' | null
}

interface RowInList {
  readonly row: RefObject<HTMLElement | null>
  /** Rows move only inside the list that has this name. */
  readonly listId: string
  readonly index: number
  readonly isFixed: boolean
  readonly onMoved: (from: number, to: number) => void
}

const AT_REST: DragInList = { isDragged: false, landsAt: null }

/** Lets a row of a list be dragged to another place in it, and others be dropped beside it. */
export function useDragInList({ row, listId, index, isFixed, onMoved }: RowInList): DragInList {
  const [drag, setDrag] = useState(AT_REST)
  const moved = useEffectEvent(onMoved)

  useEffect(() => {
    const element = row.current
    if (element === null || isFixed) return undefined
    const fromIndexOf = (data: Record<string, unknown>): number | null =>
      data['listId'] === listId && typeof data['index'] === 'number' ? data['index'] : null

    return combine(
      draggable({
        element,
        // Fields and buttons keep their own way with the pointer.
        canDrag: ({ input }) =>
          document.elementFromPoint(input.clientX, input.clientY)?.closest('button, input, a') == null,
        getInitialData: () => ({ listId, index }),
        onDragStart: () => setDrag({ isDragged: true, landsAt: null }),
        onDrop: () => setDrag(AT_REST),
      }),
      dropTargetForElements({
        element,
        canDrop: ({ source }) => fromIndexOf(source.data) !== null,
        getData: ({ input }) =>
          attachClosestEdge({ index }, { element, input, allowedEdges: ['top', 'bottom'] }),
        onDrag({ self, source }) {
          const edge = extractClosestEdge(self.data)
          const from = fromIndexOf(source.data)
          const landsAt = from === null || edge === null ? null : landingEdge(from, edge)
          setDrag((before) => (before.landsAt === landsAt ? before : { ...before, landsAt }))
        },
        onDragLeave: () => setDrag((before) => ({ ...before, landsAt: null })),
        onDrop({ self, source }) {
          setDrag(AT_REST)
          const from = fromIndexOf(source.data)
          if (from === null) return
          const to = destination(from, extractClosestEdge(self.data))
          if (to !== from) moved(from, to)
        },
      }),
    )

    function destination(from: number, edge: ReturnType<typeof extractClosestEdge>): number {
      return getReorderDestinationIndex({
        startIndex: from,
        indexOfTarget: index,
        closestEdgeOfTarget: edge,
        axis: 'vertical',
      })
    }

    function landingEdge(from: number, edge: string): DragInList['landsAt'] {
      if (edge !== 'top' && edge !== 'bottom') return null
      return destination(from, edge) === from ? null : edge
    }
  }, [row, listId, index, isFixed])

  return drag
}
