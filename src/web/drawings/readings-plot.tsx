import { dateOf, dayNumber, formatDate } from '../../dates/index.ts';
import type { ReadingSeries } from '../replica/views/rig.ts';

const HEIGHT = 190;
const PAD = { left: 46, right: 14, top: 14, bottom: 28 };

/** Readings over time, their limit, and the fan in which they may drift to it. */
export function ReadingsPlot({
  series,
  width,
  today,
}: {
  readonly series: ReadingSeries;
  readonly width: number;
  readonly today: string;
}) {
  const scale = scaleOf(series, width, today);
  const { x, y, ticks, first, last } = scale;
  const end = series.points.at(-1)!;
  const { crosses, limit } = series;
  return (
    <svg
      class="plot"
      viewBox={`0 0 ${width} ${HEIGHT}`}
      width={width}
      height={HEIGHT}
      role="img"
      aria-label={spoken(series)}
    >
      {ticks.map((value) => (
        <g key={value}>
          <path class="grid" d={`M${PAD.left} ${y(value)} H${width - PAD.right}`} />
          <text x={PAD.left - 8} y={y(value) + 4} text-anchor="end" font-size="13">
            {value}
          </text>
        </g>
      ))}
      {crosses && limit && (
        <g class="fan">
          <path d={`M${x(end.on)} ${y(end.value)} L${x(crosses.p10)} ${y(limit.value)} H${x(crosses.p90)} Z`} />
          <path class="median" d={`M${x(end.on)} ${y(end.value)} L${x(crosses.p50)} ${y(limit.value)}`} />
        </g>
      )}
      {limit && (
        <g class="limit">
          <path d={`M${PAD.left} ${y(limit.value)} H${width - PAD.right}`} />
          <text
            x={width - PAD.right}
            text-anchor="end"
            y={y(limit.value) + (limit.side === 'below' ? 16 : -6)}
            font-size="13"
          >
            {limit.text}
          </text>
        </g>
      )}
      <path
        class="run"
        d={series.points.map((point, at) => `${at === 0 ? 'M' : 'L'}${x(point.on)} ${y(point.value)}`).join(' ')}
      />
      {series.points.map((point) => (
        <circle key={`${point.on} ${point.value}`} cx={x(point.on)} cy={y(point.value)} r="4" />
      ))}
      {[first, last].map((date, at) => (
        <text
          key={date}
          x={at === 0 ? PAD.left : width - PAD.right}
          y={HEIGHT - 8}
          text-anchor={at === 0 ? 'start' : 'end'}
          font-size="13"
        >
          {formatDate(date, 'month')}
        </text>
      ))}
    </svg>
  );
}

function scaleOf({ points, limit, crosses }: ReadingSeries, width: number, today: string) {
  const values = [...points.map((point) => point.value), ...(limit ? [limit.value] : [])];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const step = stepFor((high - low || Math.abs(high) || 1) / 4);
  const bottom = Math.floor(low / step) * step - (low === high ? step : 0);
  const top = Math.ceil(high / step) * step + (low === high ? step : 0);
  const first = points[0]!.on;
  const horizon = dateOf(dayNumber(today) + 730);
  const last = [points.at(-1)!.on, today, ...(crosses ? [[crosses.p90, horizon].sort()[0]!] : [])].sort().at(-1)!;
  const [from, to] = [dayNumber(first), Math.max(dayNumber(last), dayNumber(first) + 1)];
  const ticks: number[] = [];
  for (let value = bottom; value <= top + step / 2; value += step) ticks.push(Number(value.toPrecision(6)));
  return {
    first,
    last,
    ticks,
    x: (date: string): number =>
      PAD.left + Math.min(1, (dayNumber(date) - from) / (to - from)) * (width - PAD.left - PAD.right),
    y: (value: number): number => PAD.top + ((top - value) / (top - bottom)) * (HEIGHT - PAD.top - PAD.bottom),
  };
}

/** 1, 2 or 5 times a power of ten, at least as large. */
function stepFor(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * ([1, 2, 5, 10].find((factor) => factor * power >= rough) ?? 10);
}

function spoken({ label, points, limit, crosses }: ReadingSeries): string {
  const readings = points.map((point) => point.text).join('; ');
  return `${label}: ${readings}.${limit ? ` The ${limit.text}.` : ''}${crosses ? ` ${crosses.text}.` : ''}`;
}
