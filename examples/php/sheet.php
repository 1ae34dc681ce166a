<?php
// A batch sheet from PHP: reads a recipe, plans it, prints what to weigh.
//
//     php -d ffi.enable=1 sheet.php ../recipes/winter-fair.json
//
// lixivium.php beside it says how the library is found. The recipe is an invented batch for a
// winter fair.

declare(strict_types=1);

require __DIR__ . '/lixivium.php';

function line(array $number, string $unit, string $name): void
{
    printf("%10.2f %s  %s\n", $number['value'], $unit, $name);
}

function print_sheet(array $plan): void
{
    foreach ($plan['cautions'] as $caution) {
        echo "! $caution[says]\n";
    }
    line($plan['water_to_add_mass'], 'g', 'Water');
    line($plan['naoh_mass'], 'g', 'Sodium hydroxide, into the water');
    line($plan['koh_mass'], 'g', 'Potassium hydroxide, into the water');
    foreach ([...$plan['fats'], ...$plan['acids'], ...$plan['additives']] as $item) {
        line($item['mass'], 'g', $item['name']);
    }
    line($plan['batter_mass'], 'g', 'Batter, all together');
    line($plan['superfat'], '%', 'Superfat, as weighed');
    line($plan['lye_concentration'], '%', 'Lye concentration, as weighed');
}

if ($argc !== 2 || !is_readable($argv[1])) {
    fwrite(STDERR, "usage: sheet.php RECIPE.json\n");
    exit(2);
}
try {
    $recipe = json_decode(file_get_contents($argv[1]), flags: JSON_THROW_ON_ERROR);
    print_sheet((new Lixivium())->call('plan', $recipe));
} catch (LixiviumError | JsonException $error) {
    fwrite(STDERR, $error->getMessage() . "\n");
    exit(1);
}
