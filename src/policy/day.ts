/** Days as people write them in files: `2027-03-31`, in UTC. As texts they compare as they follow each other. */

/** Whether a text is a day of the calendar. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && dayOf(day) === text;
}

/** The day of a moment, in UTC. */
export function dayOf(moment: Date): string {
  return moment.toISOString().slice(0, 10);
}
