// A moment as the pages write it: year first, 24 hours, in the reader's own time zone.

const two = (number: number): string => String(number).padStart(2, '0');

/** `2026-11-25 14:05` */
export function momentText(iso: string): string {
  const moment = new Date(iso);
  const day = [moment.getFullYear(), two(moment.getMonth() + 1), two(moment.getDate())].join('-');
  return `${day} ${two(moment.getHours())}:${two(moment.getMinutes())}`;
}
