// A main for the fuzzers without libFuzzer.
//
//   fuzz_NAME PATH...                 replays files and the files of folders
//   fuzz_NAME --mutate=SECONDS PATH.. changes them at random for so long; the input at work is
//                                     kept in ./fuzz-last-input, which a crash leaves behind
#include <chrono>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "fuzz.h"

namespace {

namespace fs = std::filesystem;

std::vector<std::string> read_inputs(const std::vector<std::string>& paths) {
  std::vector<std::string> inputs;
  const auto read = [&](const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    inputs.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  };
  for (const std::string& path : paths) {
    if (!fs::is_directory(path)) {
      read(path);
      continue;
    }
    for (const auto& entry : fs::directory_iterator(path)) {
      if (entry.is_regular_file()) read(entry.path());
    }
  }
  return inputs;
}

void run(const std::string& input) {
  LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(input.data()), input.size());
}

/// Byte changes, cuts, repeats, pieces of other inputs, and bytes that mean something somewhere.
class Mutator {
 public:
  explicit Mutator(const std::vector<std::string>& seeds) : seeds_(seeds), random_(20240607) {}

  std::string next() {
    std::string text = seeds_[below(seeds_.size())];
    for (std::size_t left = 1 + below(6); left > 0; --left) change(text);
    constexpr std::size_t kLongest = 1U << 15;
    if (text.size() > kLongest) text.resize(kLongest);
    return text;
  }

 private:
  std::size_t below(std::size_t bound) { return bound == 0 ? 0 : random_() % bound; }

  void change(std::string& text) {
    static const std::vector<std::string> kTelling = {"<",
                                                      ">",
                                                      "&",
                                                      "]]>",
                                                      "<!--",
                                                      "-->",
                                                      "\"",
                                                      "'",
                                                      "\n\n",
                                                      "![",
                                                      "](",
                                                      "|",
                                                      "`",
                                                      "\\",
                                                      "\r\n",
                                                      "\t",
                                                      "..",
                                                      "/",
                                                      "~",
                                                      "?",
                                                      "[",
                                                      "]",
                                                      "{",
                                                      "}",
                                                      "\xEF\xBB\xBF",
                                                      "\xE2\x80\x99",
                                                      "\xC2",
                                                      "\xFF",
                                                      "\0",
                                                      "999999999999999999999",
                                                      "-1",
                                                      "0",
                                                      "194X",
                                                      "May",
                                                      "Fig. ",
                                                      "(",
                                                      ")",
                                                      ";",
                                                      ",",
                                                      ".",
                                                      "= ",
                                                      "'''",
                                                      "\"\"\"",
                                                      "<![CDATA[",
                                                      "<?stet ",
                                                      "<footnote>",
                                                      "(?P<",
                                                      "|\n| --- |\n"};
    const std::size_t at = below(text.size() + 1);
    const std::size_t length = std::min(text.size() - at, 1 + below(24));
    switch (below(8)) {
      case 0:
        if (at < text.size()) text[at] = static_cast<char>(below(256));
        break;
      case 1:
        text.erase(at, length);
        break;
      case 2:
        text.insert(at, text.substr(at, length));
        break;
      case 3:
        text.insert(at, kTelling[below(kTelling.size())]);
        break;
      case 4: {
        const std::string& other = seeds_[below(seeds_.size())];
        text.insert(at, other.substr(below(other.size() + 1), 1 + below(80)));
        break;
      }
      case 5:
        text.resize(at);
        break;
      case 6: {
        const std::string piece = text.substr(at, length);
        for (std::size_t n = below(200); n > 0; --n) text.insert(at, piece);
        break;
      }
      default:
        text.replace(at, length, kTelling[below(kTelling.size())]);
        break;
    }
  }

  const std::vector<std::string>& seeds_;
  std::mt19937_64 random_;
};

}  // namespace

int main(int argc, char** argv) {
  std::vector<std::string> paths;
  double seconds = 0;
  for (int i = 1; i < argc; ++i) {
    const std::string argument = argv[i];
    if (argument.starts_with("--mutate=")) {
      seconds = std::atof(argument.c_str() + 9);
    } else {
      paths.push_back(argument);
    }
  }
  const std::vector<std::string> inputs = read_inputs(paths);
  if (inputs.empty()) {
    std::fprintf(stderr, "no saved inputs; name files or a folder of them\n");
    return 2;
  }
  for (const std::string& input : inputs) run(input);
  std::size_t runs = inputs.size();
  if (seconds > 0) {
    Mutator mutator(inputs);
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>(seconds);
    for (; std::chrono::steady_clock::now() < end; ++runs) {
      const std::string input = mutator.next();
      std::ofstream("fuzz-last-input", std::ios::binary) << input;
      run(input);
    }
    fs::remove("fuzz-last-input");
  }
  std::printf("%zu inputs\n", runs);
  return 0;
}
