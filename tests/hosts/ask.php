<?php
// Reads lines "operation TAB request", prints lines "status TAB answer"; see vectors.py.

declare(strict_types=1);

require __DIR__ . '/../../examples/php/lixivium.php';

$soap = new Lixivium();
while (($line = fgets(STDIN)) !== false) {
    [$status, $answer] = $soap->ask(...explode("\t", rtrim($line, "\n"), 2));
    echo "$status\t$answer\n";
}
