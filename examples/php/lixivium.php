<?php
// Lixivium from PHP: exact soap arithmetic, through FFI (PHP 8, extension ffi, ffi.enable).
//
//     $soap = new Lixivium();        // or new Lixivium('/where/liblixivium.so.1')
//     $plan = $soap->call('plan', ['fats' => [['fat' => 'olive-oil', 'mass' => 500]],
//                                  'superfat' => 5, 'water' => ['lye_concentration' => 33]]);
//     $plan['naoh_mass']['value'];   // the nearest double; ['exact'] is the number itself
//
// Requests and answers are arrays, as README.md describes them; an empty request is
// new stdClass, since PHP takes [] for a list. The library is taken from the path that is given,
// else from the environment variable LIXIVIUM_LIBRARY, else from where the system looks.

declare(strict_types=1);

/** A request that is not accepted: $faults has all that is wrong, each with code, at, says. */
final class LixiviumError extends InvalidArgumentException
{
    public function __construct(public readonly array $faults)
    {
        $lines = array_map(fn ($fault) => ltrim("$fault[at]: $fault[says]", ': '), $faults);
        parent::__construct(implode("\n", $lines));
    }
}

final class Lixivium
{
    private const ABI_VERSION = 1;
    private const HEADER = '
        int32_t lxv_call_n(const char *operation, size_t operation_bytes, const char *request,
                           size_t request_bytes, char **answer, size_t *answer_bytes);
        void lxv_free(char *answer);
        const char *lxv_version(void);
        uint32_t lxv_abi_version(void);
    ';

    private readonly FFI $library;
    public readonly string $version;

    public function __construct(?string $path = null)
    {
        $path ??= getenv('LIXIVIUM_LIBRARY') ?: 'liblixivium.so.1';
        $this->library = FFI::cdef(self::HEADER, $path);
        if ($this->library->lxv_abi_version() !== self::ABI_VERSION) {
            throw new RuntimeException("$path has another ABI than " . self::ABI_VERSION);
        }
        $this->version = $this->library->lxv_version();
    }

    /** Carries out one operation; throws LixiviumError with all faults of the request. */
    public function call(string $operation, array|object $request): array
    {
        [$status, $text] = $this->ask($operation, json_encode($request, JSON_THROW_ON_ERROR));
        $answer = json_decode($text, true, flags: JSON_THROW_ON_ERROR);
        if ($status !== 0) {
            throw new LixiviumError($answer['error']['faults']);
        }
        return $answer;
    }

    /** Carries out one operation, JSON text in and out; gives the status and the answer. */
    public function ask(string $operation, string $request): array
    {
        $answer = $this->library->new('char *');
        $bytes = $this->library->new('size_t');
        $status = $this->library->lxv_call_n(
            $operation, strlen($operation), $request, strlen($request),
            FFI::addr($answer), FFI::addr($bytes),
        );
        try {
            return [$status, FFI::string($answer, $bytes->cdata)];
        } finally {
            $this->library->lxv_free($answer);
        }
    }
}
