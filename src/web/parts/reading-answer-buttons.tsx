import { Button } from '@mantine/core';
import type { TextAnswer } from '../reading-answers.ts';

interface ReadingAnswerButtonsProps<Reading> {
  answers: readonly TextAnswer<Reading>[] | undefined;
  fileName: string;
  onAnswer: (reading: Reading) => void;
}

/** One button for each way in which a refused text may be read. */
export function ReadingAnswerButtons<Reading>({
  answers = [],
  fileName,
  onAnswer,
}: ReadingAnswerButtonsProps<Reading>) {
  return answers.map(({ label, reading }) => (
    <Button
      key={label}
      size="compact-xs"
      aria-label={`${label}: ${fileName}`}
      onClick={() => onAnswer(reading)}
    >
      {label}
    </Button>
  ));
}
