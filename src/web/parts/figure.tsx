import { Button, Group, Menu } from '@mantine/core';
import { useState } from 'react';
import { ChartView, type ChartViewProps } from '../../charts/react-scene.tsx';
import { type FigureFormat, saveFigure } from '../figure-export.ts';
import { ProblemNotice } from './problem-notice.tsx';

const FORMATS: readonly FigureFormat[] = ['SVG', 'PNG', 'CSV'];

/** A chart with its way out: as a drawing, a picture, or the numbers behind it. */
export function Figure(props: ChartViewProps) {
  const [error, setError] = useState<Error | null>(null);
  const save = (format: FigureFormat) => {
    setError(null);
    saveFigure(props.scene, format).catch(setError);
  };
  return (
    <div>
      <ChartView {...props} />
      <Group justify="flex-end" className="no-print">
        <Menu position="bottom-end">
          <Menu.Target>
            <Button size="compact-xs" variant="subtle" color="gray">
              Save figure
            </Button>
          </Menu.Target>
          <Menu.Dropdown>
            {FORMATS.map((format) => (
              <Menu.Item key={format} onClick={() => save(format)}>
                {format}
              </Menu.Item>
            ))}
          </Menu.Dropdown>
        </Menu>
      </Group>
      <ProblemNotice error={error} />
    </div>
  );
}
