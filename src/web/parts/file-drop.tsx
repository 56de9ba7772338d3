import { Button, Group, Stack, Text } from '@mantine/core';
import { Dropzone } from '@mantine/dropzone';
import { useRef } from 'react';

interface FileDropProps {
  /** name of the hidden file field */
  label: string;
  children: string;
  onFiles: (files: File[]) => void;
  isMultiple?: boolean;
  accept?: string[];
}

/** A place to drop files on, with a button for the keyboard. */
export function FileDrop({ label, children, onFiles, isMultiple = true, accept }: FileDropProps) {
  const open = useRef<() => void>(null);
  return (
    <Dropzone
      onDropAny={(files, refused) => onFiles([...files, ...refused.map(({ file }) => file)])}
      onDrop={() => undefined}
      openRef={open}
      multiple={isMultiple}
      accept={accept}
      activateOnClick={false}
      activateOnKeyboard={false}
      enablePointerEvents
      inputProps={{ 'aria-label': label }}
      p="md"
      style={{ cursor: 'default' }}
    >
      <Group justify="center" gap="lg">
        <Stack gap={0}>
          <Dropzone.Accept>
            <Text fw={600}>Let go to bring them in</Text>
          </Dropzone.Accept>
          <Dropzone.Idle>
            <Text fw={600}>{isMultiple ? 'Drop files here' : 'Drop the file here'}</Text>
          </Dropzone.Idle>
          <Text size="sm" c="dimmed">
            {children}
          </Text>
        </Stack>
        <Button variant="light" onClick={() => open.current?.()}>
          {isMultiple ? 'Choose files' : 'Choose a file'}
        </Button>
      </Group>
    </Dropzone>
  );
}
