// Paints a scene as React elements, with pointer and keyboard. Text goes in as text; React escapes it.
import {
  type KeyboardEvent,
  type PointerEvent,
  type ReactElement,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import {
  hitTest,
  type Mark,
  type MarkTarget,
  type Scene,
  SMALLEST_TEXT_PX,
  type SymbolMark,
  type TextMark,
  targetsOf,
} from './scene.ts';
import { areaPath, dotsPath, HALO_PX, linePath, px, symbolPath, textOrigin } from './svg-path.ts';
import { fitText, textWidth, wrappedLines } from './text-width.ts';
import { type ColourRole, colourValue, type ThemeName } from './theme.ts';

/** Where a pointer is, in the scene's pixels, whatever the size on the page; and the mark it means. */
export interface ChartPointer {
  readonly kind: 'move' | 'down' | 'up' | 'leave';
  readonly x: number;
  readonly y: number;
  readonly markId: string | null;
}

export interface ChartViewProps {
  readonly scene: Scene;
  /** 'page' (the usual): colours from the page's style sheet, see `chartStyleSheet` */
  readonly theme?: ThemeName | 'page';
  readonly className?: string;
  readonly onPointer?: (pointer: ChartPointer) => void;
  /** a mark was clicked, or Enter or space was pressed on it; makes the marks reachable by keyboard */
  readonly onChoose?: (markId: string) => void;
  /** mark shown as chosen */
  readonly chosenId?: string | null;
}

type ColourOf = (role: ColourRole) => string;
type SymbolTarget = SymbolMark & { readonly target: MarkTarget };

function TextElement({ mark, colour }: { mark: TextMark; colour: ColourOf }): ReactElement {
  const halo = mark.hasHalo
    ? ({
        stroke: colour('background'),
        strokeWidth: HALO_PX,
        strokeLinejoin: 'round',
        paintOrder: 'stroke',
      } as const)
    : {};
  return (
    <text
      {...textOrigin(mark)}
      fontSize={mark.size}
      fill={colour(mark.fill)}
      textAnchor={mark.anchor}
      fontWeight={mark.isBold ? 'bold' : undefined}
      {...halo}
    >
      {mark.fullText && <title>{mark.fullText}</title>}
      {mark.text}
    </text>
  );
}

interface MarkProps {
  readonly mark: Mark;
  readonly colour: ColourOf;
  readonly clipPrefix: string;
}

function MarkElement({ mark, colour, clipPrefix }: MarkProps): ReactElement | null {
  switch (mark.kind) {
    case 'group': {
      const marks = <MarkElements marks={mark.marks} colour={colour} clipPrefix={clipPrefix} />;
      if (!mark.clip) {
        return <g>{marks}</g>;
      }
      return (
        <g>
          <clipPath id={clipPrefix}>
            <path d={areaPath([mark.clip])} />
          </clipPath>
          <g clipPath={`url(#${clipPrefix})`}>{marks}</g>
        </g>
      );
    }
    case 'dots':
      return (
        <path
          d={dotsPath(mark.points)}
          fill="none"
          stroke={colour(mark.fill)}
          strokeWidth={2 * mark.radius}
          strokeLinecap="round"
        />
      );
    case 'text':
      return <TextElement mark={mark} colour={colour} />;
    default: {
      const d =
        mark.kind === 'line'
          ? linePath(mark.points)
          : mark.kind === 'area'
            ? areaPath(mark.rings)
            : symbolPath(mark.shape, mark.x, mark.y, mark.radius);
      if (d === '') {
        return null;
      }
      const { fill, stroke, strokeWidth = 1, dash, opacity } = mark;
      return (
        <>
          {mark.kind === 'symbol' && mark.hasHalo && (
            <path
              d={d}
              fill={fill ? colour('background') : 'none'}
              stroke={colour('background')}
              strokeWidth={(stroke ? strokeWidth : 0) + HALO_PX}
              strokeLinecap="round"
            />
          )}
          <path
            d={d}
            fill={fill ? colour(fill) : 'none'}
            fillRule="evenodd"
            stroke={stroke ? colour(stroke) : undefined}
            strokeWidth={stroke ? strokeWidth : undefined}
            strokeDasharray={dash?.map(px).join(' ')}
            strokeLinejoin="round"
            fillOpacity={opacity}
            strokeOpacity={opacity}
          />
        </>
      );
    }
  }
}

function MarkElements({
  marks,
  colour,
  clipPrefix,
}: Omit<MarkProps, 'mark'> & { marks: readonly Mark[] }): ReactElement {
  return (
    <>
      {marks.map((mark, i) => (
        // A scene is made anew as a whole, so a mark's place in it is its identity.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <MarkElement key={i} mark={mark} colour={colour} clipPrefix={`${clipPrefix}-${i}`} />
      ))}
    </>
  );
}

const WIDEST_READOUT_PX = 460;
const READOUT_LINE_PX = 17;

/** Label of the mark under the pointer or the keyboard's focus, kept inside the picture. */
function Readout({
  target,
  width,
  colour,
}: {
  target: SymbolTarget;
  width: number;
  colour: ColourOf;
}): ReactElement {
  const textPx = SMALLEST_TEXT_PX + 1;
  const lines = wrappedLines(target.target.label, Math.min(width - 20, WIDEST_READOUT_PX), textPx, 4).map(
    (line) => fitText(line, width - 20, textPx).text,
  );
  const boxWidth = Math.min(width - 4, Math.max(...lines.map((line) => textWidth(line, textPx))) + 14);
  const boxHeight = 5 + READOUT_LINE_PX * lines.length;
  const left = Math.max(2, Math.min(width - boxWidth - 2, target.x + target.radius + 6));
  const above = target.y - target.radius - 6 - boxHeight;
  const top = above > 2 ? above : target.y + target.radius + 6;
  return (
    <g pointerEvents="none">
      <rect
        x={left}
        y={top}
        width={boxWidth}
        height={boxHeight}
        rx={3}
        fill={colour('background')}
        stroke={colour('axis')}
      />
      {lines.map((line, i) => (
        <text
          key={line}
          x={left + 7}
          y={top + 15 + READOUT_LINE_PX * i}
          fontSize={textPx}
          fill={colour('ink')}
        >
          {line}
        </text>
      ))}
    </g>
  );
}

/**
 * A chart on a page. With `onChoose` its marks form one stop of the tab order; arrow keys go from mark to mark, Enter and
 * space choose. Without it the chart is one image with a title and a description.
 */
export function ChartView({
  scene,
  theme = 'page',
  className,
  onPointer,
  onChoose,
  chosenId,
}: ChartViewProps): ReactElement {
  const baseId = useId().replaceAll(':', '');
  const svg = useRef<SVGSVGElement>(null);
  const [hoveredId, setHoveredId] = useState<string | null>(null);
  const [stopId, setStopId] = useState<string | null>(null);
  const colour: ColourOf = (role) => colourValue(role, theme);
  const targets = useMemo(() => targetsOf(scene), [scene]);
  // The marks are drawn once per scene, however often the pointer moves.
  const drawn = useMemo(
    () => (
      <MarkElements
        marks={scene.marks}
        colour={(role) => colourValue(role, theme)}
        clipPrefix={`${baseId}-clip`}
      />
    ),
    [scene, theme, baseId],
  );

  const tell = (kind: ChartPointer['kind']) => (event: PointerEvent<SVGSVGElement>) => {
    const box = svg.current!.getBoundingClientRect();
    const x = ((event.clientX - box.left) / box.width) * scene.width;
    const y = ((event.clientY - box.top) / box.height) * scene.height;
    const markId = kind === 'leave' ? null : (hitTest(scene, x, y)?.id ?? null);
    setHoveredId(markId);
    onPointer?.({ kind, x, y, markId });
    if (kind === 'down' && markId) {
      onChoose?.(markId);
    }
  };

  const stop = targets.find(({ target }) => target.id === stopId) ?? targets[0];
  const moveBy = (steps: number) => {
    const i = targets.findIndex(({ target }) => target.id === stop?.target.id);
    const next = targets[(i + steps + targets.length) % targets.length];
    if (next) {
      setStopId(next.target.id);
      setHoveredId(next.target.id);
      svg.current?.querySelector<SVGElement>(`[data-mark="${CSS.escape(next.target.id)}"]`)?.focus();
    }
  };
  const onKeyDown = (event: KeyboardEvent<SVGGElement>, id: string) => {
    const steps = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (steps) {
      event.preventDefault();
      moveBy(steps);
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      onChoose?.(id);
    } else if (event.key === 'Escape') {
      setHoveredId(null);
    }
  };

  const hovered = targets.find(({ target }) => target.id === hoveredId);
  const chosen = targets.find(({ target }) => target.id === chosenId);
  const isInteractive = onChoose !== undefined && targets.length > 0;
  return (
    <svg
      ref={svg}
      className={className}
      viewBox={`0 0 ${px(scene.width)} ${px(scene.height)}`}
      width={scene.width}
      height={scene.height}
      style={{ maxWidth: '100%', height: 'auto', display: 'block' }}
      role={isInteractive ? 'group' : 'img'}
      aria-label={scene.title}
      aria-describedby={`${baseId}-desc`}
      fontFamily="inherit"
      onPointerMove={tell('move')}
      onPointerDown={tell('down')}
      onPointerUp={tell('up')}
      onPointerLeave={tell('leave')}
    >
      <desc id={`${baseId}-desc`}>{scene.description}</desc>
      <rect width={scene.width} height={scene.height} fill={colour('background')} />
      <g aria-hidden={isInteractive ? true : undefined}>{drawn}</g>
      {chosen && (
        <circle
          cx={chosen.x}
          cy={chosen.y}
          r={chosen.radius + 4}
          fill="none"
          stroke={colour('accent')}
          strokeWidth={2}
        />
      )}
      {isInteractive &&
        targets.map(({ target, x, y, radius }) => (
          // biome-ignore lint/a11y/useSemanticElements: there is no button element in SVG
          <g
            key={target.id}
            data-mark={target.id}
            role="button"
            aria-label={target.label}
            aria-pressed={target.id === chosenId}
            tabIndex={target.id === stop?.target.id ? 0 : -1}
            onFocus={() => {
              setStopId(target.id);
              setHoveredId(target.id);
            }}
            onBlur={() => setHoveredId(null)}
            onKeyDown={(event) => onKeyDown(event, target.id)}
          >
            <circle cx={x} cy={y} r={radius + 4} fill="transparent" />
          </g>
        ))}
      {hovered && <Readout target={hovered} width={scene.width} colour={colour} />}
    </svg>
  );
}
