#pragma once
/// What a person can choose in the desktop's file dialog.
namespace quarterturn::app {

enum class Choosing { films, library };  ///< several files; one folder

}  // namespace quarterturn::app
