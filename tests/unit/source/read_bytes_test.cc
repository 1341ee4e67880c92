#include "source/read_bytes.h"

#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <string>
#include <thread>

namespace tailproof {

namespace fs = std::filesystem;

namespace {

class Place {
 public:
  Place() {
    std::string name = (fs::temp_directory_path() / "tailproof-read-XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    folder_ = name;
  }
  ~Place() {
    std::error_code error;
    fs::remove_all(folder_, error);
  }
  Place(const Place&) = delete;
  Place& operator=(const Place&) = delete;
  [[nodiscard]] std::string at(const char* name) const { return (folder_ / name).string(); }

 private:
  fs::path folder_;
};

std::string fault_of(const std::string& path, Streams streams = Streams::kRefused) {
  const Result<std::string> bytes = read_bytes(path, streams);
  return bytes ? "" : bytes.error().message;
}

}  // namespace

TEST_CASE("a file is read whole, whatever its bytes") {
  const Place place;
  std::string text(300000, 'x');
  text += std::string("\0\xff", 2);
  std::ofstream(place.at("f"), std::ios::binary) << text;
  const Result<std::string> bytes = read_bytes(place.at("f"));
  REQUIRE(bytes);
  CHECK(bytes.value() == text);
  std::ofstream(place.at("empty"), std::ios::binary).flush();
  CHECK(read_bytes(place.at("empty")).value().empty());
}

TEST_CASE("what is no file is refused with its kind") {
  const Place place;
  CHECK(fault_of(place.at("gone")) == "cannot be opened: No such file or directory");
  CHECK(fault_of("/") == "is a folder; a file was expected");
  CHECK(fault_of("/dev/zero") == "is a device, which has no end; name a file");
  CHECK(fault_of("/dev/null").empty());
  fs::create_symlink("round", place.at("round"));
  CHECK(fault_of(place.at("round")) == "cannot be opened: Too many levels of symbolic links");
  const int listener = socket(AF_UNIX, SOCK_STREAM, 0);
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  std::strncpy(address.sun_path, place.at("s").c_str(), sizeof address.sun_path - 1);
  REQUIRE(bind(listener, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
  CHECK(fault_of(place.at("s")).starts_with("cannot be opened"));
  close(listener);
}

TEST_CASE("a pipe is read where the user may name one, when somebody writes to it") {
  const Place place;
  REQUIRE(mkfifo(place.at("p").c_str(), 0600) == 0);
  CHECK(fault_of(place.at("p")) == "is a pipe, which is not read here; put a file in its place");
  CHECK(fault_of(place.at("p"), Streams::kAllowed) == "is a pipe to which nobody writes");
  const std::string text(200000, 'y');
  std::thread writer([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    std::ofstream stream(place.at("p"));
    stream << text.substr(0, 70000) << std::flush;
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    stream << text.substr(70000);
  });
  const Result<std::string> bytes = read_bytes(place.at("p"), Streams::kAllowed);
  writer.join();
  REQUIRE(bytes);
  CHECK(bytes.value() == text);
}

TEST_CASE("a file that is too long is refused before it is read") {
  const Place place;
  std::ofstream(place.at("f"), std::ios::binary).flush();
  fs::resize_file(place.at("f"), kMostFileBytes + 1);  // takes no room on the disk
  CHECK(fault_of(place.at("f")) == "has 4 GiB or more; split it");
}

}  // namespace tailproof
